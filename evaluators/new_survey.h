// A first survey from a folder of recordings: what the files say of themselves, and plain guesses where they say
// nothing.
//
// Files are found in the folder and up to three folders below it, in the order of their names; hidden names and
// symbolic links are passed over. A space for each file; position floor; setting building, judged by iso2631-2-2003,
// which reports values and sets no limits, so that no guess of a use can become a verdict. Axes: from the channels'
// names (x, y, z, vert, long, lat, roll, ...); without names one channel is z and three are x, y, z. Further axes of
// the same kind are taken for further sensors, each in a space of its own; directions that a file states of all
// channels serve where its names say nothing. Unit: the file's, else m/s2. Integer samples are left without a scale,
// unless the file states one. Serial numbers in the files make [[sensor]] entries, titles name the spaces. Every guess
// is said in the recording's comment.
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "src/base/problem.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

struct NewSurvey {
    Survey survey = {};
    std::vector<Problem> problems = {}; // files that look like recordings and are not in it
};

// Without a single readable recording: what is wrong with each file, or that there is none, or that the folder cannot
// be read.
Results<NewSurvey> survey_from_folder(const std::string& folder);

// Spaces and recordings, and nothing else, for further recordings of a survey: files, and what lies in folders. Files
// are named relative to the survey's folder, from "../" where they lie beside it. What the survey has already is left
// out, with a problem.
NewSurvey further_recordings(const Survey& survey, const std::vector<std::string>& paths);

// What the comment of a recording says is a guess of survey_from_folder, and what it asks for.
struct Guesses {
    bool axes = false;
    bool unit = false;
    bool scale_missing = false; // integer samples

    friend bool operator==(const Guesses&, const Guesses&) = default;
};
Guesses guesses_in(std::string_view comment);

// The remark that an axis is a guess, for a comment.
std::string axis_guess(Axis axis);

// The comment without the remarks of those that are set in `settled`; a person's own words stay.
std::string without_guesses(std::string_view comment, const Guesses& settled);

// An id made of words: letters and digits, those beyond ASCII as they are, everything between them one hyphen; with a
// number behind it where it is taken.
std::string id_of(std::string_view words, const std::set<std::string>& taken);

} // namespace becalm::evaluators

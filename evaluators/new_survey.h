// A first survey from a folder of recordings: what the files say of themselves, and plain guesses where they say
// nothing.
//
// Files are found in the folder and up to three folders below it, in the order of their names; hidden names and
// symbolic links are passed over. A space for each file; position floor; setting building, judged by iso2631-2-2003,
// which reports values and sets no limits, so that no guess of a use can become a verdict. Axes: from the channels'
// names (x, y, z, vert, long, lat, roll, ...); without names one channel is z and three are x, y, z. Further axes of
// the same kind are taken for further sensors, each in a space of its own. Unit: the file's, else m/s2. Integer samples
// are left without a scale, which nobody but the owner knows. Every guess is said in the recording's comment.
#pragma once

#include <string>
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

} // namespace becalm::evaluators

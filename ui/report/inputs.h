// What a report rests on, told so that a program can read it back out of the report: the survey's text, each recording,
// each criterion with the SHA-256 of its file, the program's version, every value in full and the judgement as a whole.
//
// In a PDF the inputs are an attached file (pdf_attachment.h), a line each, and the text is the bytes of the PDF before
// it.
//
// The seal is the SHA-256 of the lines "kind TAB name TAB value TAB detail LF" of all inputs, sorted by their bytes,
// and a line with the SHA-256 of the report's text before the footer. It is a digest, no signature: it shows what
// changed since, not who changed it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "src/base/problem.h"
#include "src/io/criterion_file.h"
#include "src/model/assessment.h"
#include "src/model/survey.h"
#include "ui/report/document.h"

namespace becalm::report {

struct Input {
    std::string kind = {};   // "version", "survey", "asked", "recording", "criterion", "assessment", "verdict"
    std::string name = {};   // of the survey: its file, relative to the report's folder
    std::string value = {};  // SHA-256; of a verdict the value in full, or "not judged"
    std::string detail = {}; // of a verdict: unit, expanded uncertainty and band

    friend bool operator==(const Input&, const Input&) = default;
};

// The judgement without the folders of this machine: files by their names, so that it is the same from wherever it is
// called.
Assessment portable(Assessment assessment, const io::CriteriaLibrary& library);

// `survey_file` relative to the report; `assessment` a portable one; `asked`: criteria that replace the survey's own.
std::vector<Input> inputs_of(const Survey& survey, const Assessment& assessment, const io::CriteriaLibrary& library,
                             const std::string& survey_file, const std::vector<std::string>& asked,
                             const std::string& version);

// "d4-214 / floor / service / iso6954-2000 / z": which verdict it is.
std::string key_of(const Verdict& verdict);

// Of a recording, as the pass read it: format, rate, channels, duration; and its SHA-256. Both empty where it could not
// be read.
struct AsRead {
    std::string facts = {}, sha256 = {};
};
AsRead as_read(const Assessment& assessment, const std::string& file);

// The facts of an input, for a row of a table.
Facts facts_of(const Input& input);

// The seal of the report whose text is `open` (html.h).
std::string seal_of(const std::string& open, const std::vector<Input>& inputs);

// The sealed report: `open` with a footer.
std::string sealed(const std::string& open, const std::vector<Input>& inputs);

// The sealed report as PDF: `pages` with the inputs, the SHA-256 of `pages` and a seal over both attached to it.
Result<std::string> sealed_pdf(const std::string& pages, const std::vector<Input>& inputs);

// Reads a report of this program, HTML or PDF, strictly: what it does not know is a Problem.
enum class SealedText {
    as_sealed,
    changed, // the seal is not that of the text (of a PDF: of its pages) and the inputs
    unknown  // another program has written the PDF anew: the inputs are still in it, the pages as sealed are not
};
struct ReadBack {
    std::vector<Input> inputs = {};
    SealedText text = SealedText::as_sealed;
};
Result<ReadBack> read_back(const std::string& report, const std::string& path);

// What differs, in words, one line each. `now` as the survey gives it today. Values that differ by no more than
// rounding (1e-9 of the value: another processor adds in another order) are remarks.
struct Comparison {
    std::vector<std::string> differences = {};
    std::vector<std::string> remarks = {};
};
Comparison compared(const std::vector<Input>& told, const std::vector<Input>& now);

} // namespace becalm::report

// What a report of a judgement says, in which order: the one builder for every writer and every face.
//
// Contents: client and purpose; object and places with plans; conditions, times and sources; instruments with
// calibration, recordings; what was left out and why; fitness; results by criterion with bands and figures; daily
// exposures of persons; causes and cures; uncertainty; cautions; an appendix from which each value can be computed
// again; publications. They follow what publications ask a report to tell [iso2631-1-1997; iso2631-2-2003;
// iso20283-5-2016; bs6472-1-2008] (contents as read in secondary texts, or from memory). Nothing is judged here:
// values, bands and words are those of the judgement.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "src/io/criterion_file.h"
#include "src/model/explanation.h"
#include "src/model/exposure_report.h"
#include "src/model/survey.h"
#include "ui/report/document.h"
#include "ui/report/inputs.h"
#include "ui/report/letterhead.h"
#include "ui/report/wording.h"

namespace becalm::report {

struct ReportInput {
    const Survey& survey;
    const ExplanationReport& report; // its assessment a portable one (inputs.h)
    const io::CriteriaLibrary& library;
    const io::Bibliography& bibliography;
    const std::vector<Input>& inputs;
    std::string date = {}; // empty: that of the latest recording, where one states it
    std::string version = {};
    Letterhead letterhead = {};
    std::optional<ExposureReport> exposure = {}; // of a survey that tells of persons' days
};

// The date the report bears: as given, else that of the latest recording; empty where none states its start.
std::string date_of(const ReportInput& input);

Document report_contents(const ReportInput& input, Language language = Language::english);

} // namespace becalm::report

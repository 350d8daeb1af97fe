// An example: weighs a recording and judges a survey with the library.
//
//   judge RECORDING SURVEY
//
// Prints r.m.s. and MTVV of each lane (Wk, unit m/s2) and the verdicts; numbers are those of `becalm weigh` and
// `becalm assess`.
#include <cstdio>
#include <string>

#include "evaluators/assess.h"
#include "evaluators/weighted_series.h"
#include "src/io/criteria_folders.h"
#include "src/io/survey_file.h"

namespace {

int complain(const becalm::Problem& problem)
{
    std::fprintf(stderr, "judge: %s\n", becalm::to_text(problem).c_str());
    return 1;
}

int weigh(const std::string& recording)
{
    const becalm::evaluators::WeighOptions options{.weightings = {becalm::WeightingId::Wk}};
    const auto series = becalm::evaluators::weighted_series(recording, options, true);
    if (!series) return complain(series.error());
    for (std::size_t i = 0; i < series->weighed.lanes.size(); ++i) {
        const becalm::WeighedLane& lane = series->weighed.lanes[i];
        if (!lane.rms) { // the findings say why
            std::printf("channel %d: not weighted\n", lane.channel);
            continue;
        }
        std::printf("channel %d, %s, %s: r.m.s. %.17g %s, MTVV %.17g %s, %zu samples\n", lane.channel,
                    lane.axis.c_str(), lane.weighting.c_str(), *lane.rms, lane.unit.c_str(), *lane.mtvv_linear,
                    lane.unit.c_str(), series->samples[i].size());
    }
    return 0;
}

int judge(const std::string& path)
{
    const auto survey = becalm::io::read_survey(path);
    if (!survey) return complain(survey.error().front());
    const auto criteria = becalm::io::load_all_criteria(path);
    if (!criteria) return complain(criteria.error().front());
    const auto assessment = becalm::evaluators::assess(*survey, criteria->library);
    if (!assessment) return complain(assessment.error().front());
    for (const becalm::Verdict& verdict : assessment->verdicts) {
        std::string subject = verdict.person.empty() ? verdict.space : verdict.person;
        for (const std::string& part : {verdict.position, verdict.condition, verdict.axis})
            if (!part.empty()) subject += " " + part;
        if (!verdict.judged) {
            std::printf("%s, %s: %s\n", subject.c_str(), verdict.criterion.c_str(), verdict.why_not.c_str());
            continue;
        }
        const std::string band =
            verdict.band_index ? verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name : "no limits set";
        std::printf("%s, %s: %.17g %s, %s%s\n", subject.c_str(), verdict.criterion.c_str(), *verdict.value,
                    verdict.unit.c_str(), band.c_str(), verdict.exceeded ? ", exceeded" : "");
    }
    return 0;
}

} // namespace

int main(int argc, char** argv)
{
    if (argc != 3) {
        std::fputs("usage: judge RECORDING SURVEY\n", stderr);
        return 2;
    }
    if (const int failed = weigh(argv[1]); failed != 0) return failed;
    return judge(argv[2]);
}

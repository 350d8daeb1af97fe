// The figures of the page When, from what the judgement holds of a recording: the strip of seconds and the samples of a
// window.
#pragma once

#include <chrono>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "evaluators/measured.h"
#include "src/model/assessment.h"
#include "ui/desktop/sample_pyramid.h"
#include "ui/desktop/time_window.h"
#include "ui/figures/builders.h"

namespace becalm::desktop {

// How a unit is shown: m/s2 and m/s in thousandths.
figures::Numbers numbers_in(std::string_view si_unit);

// Clock time of the first sample; empty where the recording has none.
std::optional<std::chrono::local_seconds> clock_of(const Recording& recording, const io::RecordingInfo& info);

const evaluators::LaneResult* lane_of(const evaluators::PassResult& pass, int channel, WeightingId weighting);

// Whether each second's r.m.s. is the kind of number that the verdict's bands are about: an r.m.s. of this axis alone,
// under this weighting, in this unit and without a factor.
bool is_comparable(const Verdict& verdict, const Lane& lane, std::string_view unit);

struct TimeMarks {
    std::vector<ExcludedSpan> excluded = {};
    std::vector<Finding> findings = {}; // of this recording
};

struct StripRequest {
    const evaluators::Measured& measured;
    const evaluators::LaneResult& lane;
    TimeMarks marks = {};
    const std::vector<Band>* bands = nullptr; // where they are comparable
};
figures::TimeStripInput strip_of(const StripRequest& request);

struct SamplesRequest {
    const evaluators::Measured& measured;
    int channel = 1;
    TimeMarks marks = {};
    TimeWindow window = {};
    double to_si = 1.0, offset = 0.0; // shown = stored * to_si - offset
    std::optional<Envelope> envelope = {};
};
// Where there is no envelope yet: the range of each second, which the ledger holds.
figures::Figure samples_figure(const SamplesRequest& request, double width_px, double height_px);

} // namespace becalm::desktop

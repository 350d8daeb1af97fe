// Options that the commands on single files share: weightings, axes, unit, scale, span, offset, threads.
#pragma once

#include <optional>
#include <string>

#include "evaluators/weigh.h"
#include "ui/cli/console.h"
#include "ui/cli/options.h"

namespace becalm::cli {

// Where --from and --to leave no span.
std::optional<Problem> fault_of(const TimeSpan& span);

// "z", "x,y,z" (channels from `next` on) or "1=x,3=z".
Result<std::vector<std::pair<int, Axis>>> axes_from(const std::string& text, int next = 1);

// The unit called so. A Problem too where `scale`, how much of the unit a stored 1.0 is, can be of no use.
Result<Unit> unit_of(const std::string& name, const std::optional<double>& scale);

class LaneOptions {
public:
    // Without `weighting_required` the weighting is none unless the user says otherwise.
    void declare(Options app, bool weighting_required);
    // Only which channels, in what unit, and when.
    void declare_selection(Options app);
    Result<evaluators::WeighOptions> parse(const Console& console, const std::string& what_is_done) const;

private:
    std::string weighting_ = "none", axes_, unit_ = "m/s2", offset_ = "first10s";
    std::optional<double> scale_, resample_, from_, to_;
    int jobs_ = 0;
};

} // namespace becalm::cli

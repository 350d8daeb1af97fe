#include "evaluators/sources.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include <fmt/format.h>

namespace becalm::evaluators {
namespace {

std::optional<double> stated(const std::map<std::string, double>& values, const std::string& key)
{
    const auto found = values.find(key);
    if (found == values.end() || !(found->second > 0.0)) return {};
    return found->second;
}

class Prediction {
public:
    Prediction(const Source& source, const Condition* condition, double most_hz)
        : source_(source), condition_(condition), most_hz_(most_hz)
    {
    }

    Result<std::vector<PredictedLine>> lines()
    {
        const std::string& kind = source_.kind;
        if (kind == "shaft") {
            turning([&](double turn) { multiples("shaft", turn, 1, 3); });
        } else if (kind == "propeller") {
            turning([&](double turn) {
                multiples("shaft", turn, 1, 1, 2);
                with("blades", [&](double blades) { multiples("blade passing", blades * turn, 1, 4); });
            });
        } else if (kind == "engine") {
            engine();
        } else if (kind == "gear") {
            turning([&](double turn) {
                multiples("shaft", turn, 1, 1, 2);
                with("teeth", [&](double teeth) { multiples("tooth mesh", teeth * turn, 1, 2); });
            });
        } else if (kind == "generator") {
            turning([&](double turn) {
                line("rotation", turn, 1.0, 1);
                line("rotation x 2", turn, 2.0, 1);
            });
        } else if (kind == "walker") {
            with("hz", [&](double pace) {
                line("half the pace (lateral)", pace, 0.5, 2);
                multiples("pace", pace, 1, 4);
            });
        } else if (kind == "track") {
            rolling([&](double speed) {
                with("spacing_m", [&](double spacing) { multiples("passing", speed / spacing, 1, 2); });
            });
        } else if (kind == "wheel") {
            rolling([&](double speed) {
                with("diameter_m", [&](double diameter) {
                    multiples("wheel rotation", speed / (std::numbers::pi * diameter), 1, 4);
                });
            });
        } else if (kind == "mains") {
            with("hz", [&](double hz) {
                line("mains", hz, 1.0, 2);
                line("twice the mains", hz, 2.0, 1);
            });
        } else {
            plant();
        }
        if (problem_) return tl::unexpected(*problem_);
        std::ranges::sort(lines_, {}, &PredictedLine::hz);
        return std::move(lines_);
    }

private:
    std::optional<double> own(const std::string& key) const { return stated(source_.values, key); }

    void missing(const std::string& what, const std::string& remedy)
    {
        if (!problem_)
            problem_ =
                Problem{.line = source_.line,
                        .key = "source",
                        .what = fmt::format("the source \"{}\" ({}) states no {}", source_.id, source_.kind, what),
                        .remedy = remedy};
    }

    template <class Use>
    void with(const std::string& key, Use use)
    {
        if (const auto value = own(key))
            use(*value);
        else
            missing(key, fmt::format("add {} = ... to it", key));
    }

    // Revolutions a second.
    template <class Use>
    void turning(Use use)
    {
        if (const auto rpm = speed_of(source_, condition_))
            use(rpm->value / 60.0);
        else
            missing("running speed", "add rpm = ... to it, or shaft_rpm = ... to the condition");
    }

    // Metres a second.
    template <class Use>
    void rolling(Use use)
    {
        if (const auto speed = speed_of(source_, condition_))
            use(speed->value / 3.6); // not a limit: km/h in m/s
        else
            missing("speed", "add speed_km_h = ... to it or to the condition");
    }

    void engine()
    {
        turning([&](double turn) {
            with("cylinders", [&](double cylinders) {
                const double strokes = own("strokes").value_or(4.0);
                const double fundamental = strokes < 3.0 ? turn : turn / 2.0; // one cycle
                const double firing = cylinders * fundamental;
                multiples("firing", firing, 1, 3);
                for (int k = 1; k <= 8; ++k) {
                    const double hz = k * fundamental;
                    if (std::abs(hz / firing - std::round(hz / firing)) < 1e-9) continue; // told already
                    const double order = hz / turn;
                    lines_keep({.name = fmt::format("order {:.3g}", order),
                                .order = order,
                                .fundamental_hz = turn,
                                .hz = hz,
                                .rank = std::abs(order - std::round(order)) < 1e-9 ? 2 : 3});
                }
            });
        });
    }

    void plant()
    {
        const auto speed = speed_of(source_, condition_);
        if (!speed) return missing("frequency", "add rpm = ... or hz = ... to it");
        const double turn = speed->key == "hz" ? speed->value : speed->value / 60.0;
        multiples("rotation", turn, 1, 3);
        if (const auto blades = own("blades")) multiples("blade passing", *blades * turn, 1, 2);
    }

    void multiples(const std::string& name, double fundamental, int from, int to, int rank = 1)
    {
        for (int k = from; k <= to; ++k)
            line(k == 1 ? name : fmt::format("{} x {}", name, k), fundamental, k, k == 1 ? rank : rank + 1);
    }

    void line(std::string name, double fundamental, double order, int rank)
    {
        lines_keep({.name = std::move(name),
                    .order = order,
                    .fundamental_hz = fundamental,
                    .hz = order * fundamental,
                    .rank = rank});
    }

    void lines_keep(PredictedLine line)
    {
        if (line.hz > most_hz_) return;
        line.source = source_.id;
        line.tolerance_hz = line.hz * own("tolerance_percent").value_or(1.0) / 100.0;
        lines_.push_back(std::move(line));
    }

    const Source& source_;
    const Condition* condition_;
    double most_hz_;
    std::vector<PredictedLine> lines_;
    std::optional<Problem> problem_;
};

} // namespace

std::optional<SourceSpeed> speed_of(const Source& source, const Condition* condition)
{
    const auto first_of = [](std::initializer_list<SourceSpeed> places) -> std::optional<SourceSpeed> {
        for (const SourceSpeed& place : places)
            if (place.value > 0.0) return place;
        return {};
    };
    const auto own = [&](const char* key) { return SourceSpeed{false, key, stated(source.values, key).value_or(0.0)}; };
    const auto shared = [&](const char* key) {
        return SourceSpeed{true, key, condition == nullptr ? 0.0 : stated(condition->values, key).value_or(0.0)};
    };
    const std::string& kind = source.kind;
    if (kind == "shaft" || kind == "propeller") return first_of({shared("shaft_rpm"), own("rpm")});
    if (kind == "engine" || kind == "gear" || kind == "generator") return first_of({own("rpm"), shared("shaft_rpm")});
    if (kind == "track" || kind == "wheel") return first_of({shared("speed_km_h"), own("speed_km_h")});
    if (kind == "walker" || kind == "mains") return first_of({own("hz")});
    return first_of({own("hz"), own("rpm")});
}

Result<std::vector<PredictedLine>> predicted_lines(const Source& source, const Condition* condition, double most_hz)
{
    return Prediction(source, condition, most_hz).lines();
}

} // namespace becalm::evaluators

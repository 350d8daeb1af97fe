#include "evaluators/attribution.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

namespace becalm::evaluators {
namespace {

// How near two frequencies have to be that are told from one speed: a third of a bin, or a thousandth where machines
// wander more than that.
double same_place(double hz, double resolution_hz) { return std::max(0.35 * resolution_hz, 1e-3 * hz); }

template <class IsOpen>
std::optional<std::size_t> nearest(std::span<const FoundComponent> components, double hz, double within, IsOpen is_open)
{
    std::optional<std::size_t> found;
    for (std::size_t i = 0; i < components.size(); ++i) {
        const double off = std::abs(components[i].hz - hz);
        if (off <= within && is_open(i) && (!found || off < std::abs(components[*found].hz - hz))) found = i;
    }
    return found;
}

std::optional<std::size_t> nearest(std::span<const FoundComponent> components, double hz, double within)
{
    return nearest(components, hz, within, [](std::size_t) { return true; });
}

// What the source's reference channel says of a component; nullptr where there is nothing to say.
const ReferenceSays* says(const Occasion& here, std::size_t source, std::size_t component)
{
    if (source >= here.references.size() || here.references[source].empty()) return nullptr;
    const auto& said = here.references[source][component];
    return said ? &*said : nullptr;
}

bool says(const Occasion& here, std::size_t source, std::size_t component, ReferenceWord word)
{
    const ReferenceSays* said = says(here, source, component);
    return said != nullptr && said->word == word;
}

std::string in_words(const ReferenceSays& said, std::string_view whose)
{
    return fmt::format("{} with channel {}{}, coherence {:.2f}",
                       said.word == ReferenceWord::moves_with ? "moves" : "does not move", said.channel, whose,
                       said.coherence);
}

// The lines of one source at one speed, with the components found at them.
struct Fit {
    double scale = 1.0; // found speed over stated speed
    double score = 0.0;
    std::vector<std::pair<std::size_t, std::size_t>> pairs = {}; // line, component
};

constexpr double coherent_weight = 2.0; // as much as a component that stays where the speed changes speaks against

double credit(const PredictedLine& line)
{
    return line.rank == 1 ? 1.0 : line.rank == 2 ? 0.6 : 0.3; // not a limit: by rank, common practice, no source
}

Fit fit_at(const Occasion& here, std::size_t source, double scale, double resolution_hz)
{
    const auto& lines = here.sources[source];
    const auto is_open = [&](std::size_t c) { return !says(here, source, c, ReferenceWord::does_not); };
    Fit fit{.scale = scale};
    for (std::size_t l = 0; l < lines.size(); ++l) {
        const double hz = lines[l].hz * scale;
        const auto c = nearest(here.components, hz, same_place(hz, resolution_hz), is_open);
        if (!c) continue;
        fit.pairs.emplace_back(l, *c);
        fit.score += (says(here, source, *c, ReferenceWord::moves_with) ? 2.0 : 1.0) * credit(lines[l]);
    }
    // Of two speeds that explain as much the one nearer to what is stated.
    if (!lines.empty()) fit.score -= 0.1 * std::abs(scale - 1.0) * lines.front().hz / lines.front().tolerance_hz;
    return fit;
}

bool is_near(const FoundComponent& component, const PredictedLine& line, double resolution_hz)
{
    return std::abs(component.hz - line.hz) <= line.tolerance_hz + 0.5 * resolution_hz;
}

Fit best_fit(const Occasion& here, std::size_t source, double resolution_hz)
{
    Fit best;
    for (const PredictedLine& line : here.sources[source]) {
        if (line.rank != 1) continue;
        for (std::size_t c = 0; c < here.components.size(); ++c) {
            const FoundComponent& component = here.components[c];
            if (!is_near(component, line, resolution_hz) || says(here, source, c, ReferenceWord::does_not)) continue;
            Fit fit = fit_at(here, source, component.hz / line.hz, resolution_hz);
            if (fit.score > best.score) best = std::move(fit);
        }
    }
    return best;
}

// What another condition says of a match: it moves along with the source's speed, stays where it is, or says nothing.
double say_elsewhere(const Occasion& other, const PredictedLine& line, std::size_t source, double found_hz,
                     double resolution_hz, std::vector<std::string>& evidence)
{
    const auto& lines = other.sources[source];
    const auto there = std::ranges::find(lines, line.name, &PredictedLine::name);
    if (there == lines.end()) return 0.0;
    const double window = line.tolerance_hz + there->tolerance_hz + 2.0 * resolution_hz;
    if (std::abs(there->hz - line.hz) <= window) return 0.0; // the same speed proves nothing
    if (const auto moved = nearest(other.components, there->hz, there->tolerance_hz + 0.5 * resolution_hz)) {
        evidence.push_back(fmt::format("moves with the speed: {:.2f} Hz in condition {}", other.components[*moved].hz,
                                       other.condition));
        return 1.0;
    }
    if (nearest(other.components, found_hz, same_place(found_hz, resolution_hz))) {
        evidence.push_back(fmt::format("stays at {:.2f} Hz in condition {}, where the source would make {:.2f} Hz",
                                       found_hz, other.condition, there->hz));
        return -2.0;
    }
    return 0.0;
}

} // namespace

std::vector<std::vector<SourceMatch>> attribute(const Occasion& here, std::span<const Occasion> elsewhere,
                                                double resolution_hz)
{
    std::vector<std::vector<SourceMatch>> matches(here.components.size());
    for (std::size_t s = 0; s < here.sources.size(); ++s) {
        const auto& lines = here.sources[s];
        const Fit fit = best_fit(here, s, resolution_hz);
        for (const auto& [l, c] : fit.pairs) {
            const PredictedLine& line = lines[l];
            const double found = here.components[c].hz;
            SourceMatch match{.source = line.source,
                              .line = line.name,
                              .predicted_hz = line.hz,
                              .off_hz = found - line.hz,
                              .weight = credit(line)};
            if (const ReferenceSays* said = says(here, s, c)) {
                match.coherence = said->coherence;
                match.reference_channel = said->channel;
                if (said->word == ReferenceWord::moves_with) {
                    match.evidence.push_back(in_words(*said, ""));
                    match.weight += coherent_weight;
                }
            }
            match.evidence.push_back(
                fmt::format("{:+.3f} Hz from the predicted {:.2f} Hz", match.off_hz, match.predicted_hz));
            std::string others;
            for (const auto& [other, component] : fit.pairs)
                if (other != l) {
                    others += (others.empty() ? "" : ", ") + lines[other].name;
                    match.weight += 0.5 * credit(lines[other]);
                }
            if (!others.empty()) match.evidence.push_back("at the same speed also: " + others);
            for (const Occasion& other : elsewhere)
                match.weight += say_elsewhere(other, line, s, found, resolution_hz, match.evidence);
            if (match.weight > 0.0) matches[c].push_back(std::move(match));
        }
    }
    for (auto& of_component : matches)
        std::ranges::stable_sort(of_component, std::ranges::greater{}, &SourceMatch::weight);
    return matches;
}

std::vector<std::vector<std::string>>
reference_notes(const Occasion& here, std::span<const std::vector<SourceMatch>> matches, double resolution_hz)
{
    std::vector<std::vector<std::string>> notes(here.components.size());
    for (std::size_t s = 0; s < here.references.size(); ++s)
        for (std::size_t c = 0; c < here.components.size(); ++c) {
            const ReferenceSays* said = says(here, s, c);
            if (said == nullptr || said->word == ReferenceWord::nothing ||
                std::ranges::find(matches[c], said->source, &SourceMatch::source) != matches[c].end())
                continue;
            const bool fits = std::ranges::any_of(here.sources[s], [&](const PredictedLine& line) {
                return is_near(here.components[c], line, resolution_hz);
            });
            if (said->word == ReferenceWord::moves_with || fits)
                notes[c].push_back(in_words(*said, fmt::format(" ({})", said->source)));
        }
    return notes;
}

std::vector<std::string> harmonic_series(std::span<const FoundComponent> components, double resolution_hz)
{
    std::vector<std::string> series(components.size());
    std::vector<std::size_t> by_frequency(components.size());
    for (std::size_t i = 0; i < by_frequency.size(); ++i) by_frequency[i] = i;
    std::ranges::sort(by_frequency, {}, [&](std::size_t i) { return components[i].hz; });
    constexpr int most_multiple = 12;
    constexpr std::size_t least_members = 3;
    for (const std::size_t head : by_frequency) {
        if (!series[head].empty()) continue;
        const double fundamental = components[head].hz;
        std::vector<std::pair<std::size_t, int>> members;
        for (int k = 2; k <= most_multiple; ++k)
            if (const auto c = nearest(components, k * fundamental, same_place(k * fundamental, resolution_hz)))
                members.emplace_back(*c, k);
        if (members.size() + 1 < least_members) continue;
        for (const auto& [c, k] : members)
            if (series[c].empty()) series[c] = fmt::format("{} x {:.2f} Hz", k, fundamental);
    }
    return series;
}

} // namespace becalm::evaluators

#include "ui/desktop/verdict_facts.h"

#include <QCoreApplication>
#include <algorithm>
#include <cmath>
#include <utility>

#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

struct Words { // what a translator sees as their place
    Q_DECLARE_TR_FUNCTIONS(becalm::desktop::VerdictFacts)
};

bool has_band(const Verdict& verdict)
{
    return verdict.judged && verdict.value && std::isfinite(*verdict.value) && verdict.band_index &&
           static_cast<std::size_t>(*verdict.band_index) < verdict.bands.size();
}

// Where a band begins: its own start, else the end of the one before.
std::optional<double> start_of(const std::vector<Band>& bands, std::size_t band)
{
    if (bands[band].from) return bands[band].from;
    return band > 0 ? bands[band - 1].limit : std::nullopt;
}

std::size_t first_exceeding(const std::vector<Band>& bands)
{
    return static_cast<std::size_t>(std::ranges::find(bands, true, &Band::exceeds) - bands.begin());
}

// Kind of verdict, then how bad within the kind.
std::pair<int, double> badness(const Verdict& verdict)
{
    if (!verdict.judged) return {1, 0.0};
    if (!has_band(verdict)) return {verdict.exceeded ? 3 : 0, 0.0};
    const int kind = verdict.exceeded ? 3 : 2;
    const std::size_t exceeding = first_exceeding(verdict.bands);
    if (exceeding < verdict.bands.size())
        if (const auto limit = start_of(verdict.bands, exceeding); limit && *limit > 0.0)
            return {kind, *verdict.value / *limit};
    const auto band = static_cast<std::size_t>(*verdict.band_index);
    const double from = start_of(verdict.bands, band).value_or(0.0);
    const double to = verdict.bands[band].limit.value_or(from);
    const double part = to > from ? std::clamp((*verdict.value - from) / (to - from), 0.0, 1.0) : 0.0;
    return {kind, (static_cast<double>(band) + part) / static_cast<double>(verdict.bands.size())};
}

} // namespace

bool is_worse(const Verdict& a, const Verdict& b) { return badness(a) > badness(b); }

std::optional<LimitDistance> distance_to_limit(const Verdict& verdict)
{
    if (!has_band(verdict)) return std::nullopt;
    if (verdict.decision && verdict.decision->value) return std::nullopt;
    const auto band = static_cast<std::size_t>(*verdict.band_index);
    std::optional<double> limit;
    bool is_above = true;
    if (verdict.exceeded) {
        limit = start_of(verdict.bands, first_exceeding(verdict.bands));
    } else if (verdict.bands[band].limit) {
        limit = verdict.bands[band].limit;
        is_above = false;
    } else {
        limit = start_of(verdict.bands, band);
    }
    if (!limit) return std::nullopt;
    const double away = is_above ? *verdict.value - *limit : *limit - *verdict.value;
    if (away < 0.0) return std::nullopt; // the band was not chosen by this value alone
    return LimitDistance{*limit, away, is_above, verdict.expanded_uncertainty.value_or(0.0) > away};
}

QString distance_words(const Verdict& verdict)
{
    if (verdict.decision && !verdict.decision->words.empty()) return shown(verdict.decision->words);
    const auto distance = distance_to_limit(verdict);
    if (!distance) return {};
    const figures::Numbers numbers = numbers_for(verdict.unit);
    QString away = number_words(distance->away * numbers.shown_per_unit, 2);
    if (!numbers.unit.empty()) away += QChar(0x00A0) + shown(numbers.unit);
    QString text = verdict.exceeded     ? Words::tr("exceeds the limit by %1").arg(away)
                   : distance->is_above ? Words::tr("%1 above the last limit").arg(away)
                                        : Words::tr("%1 below the next limit").arg(away);
    // Of a level in dB a part in per cent says nothing.
    if (distance->limit > 0.0 && verdict.unit != "dB")
        text += Words::tr(" (%1 % of it)").arg(number_words(100.0 * distance->away / distance->limit, 2));
    if (distance->within_uncertainty) text += Words::tr(", within the uncertainty");
    return text;
}

bool is_near_limit(const Verdict& verdict)
{
    if (!has_band(verdict) || !verdict.expanded_uncertainty) return false;
    for (std::size_t band = 0; band < verdict.bands.size(); ++band)
        for (const std::optional<double>& end : {start_of(verdict.bands, band), verdict.bands[band].limit})
            if (end && std::abs(*end - *verdict.value) < *verdict.expanded_uncertainty) return true;
    return false;
}

BandPlace band_place(const Verdict* verdict)
{
    if (verdict == nullptr) return {};
    if (!verdict->judged) return {.state = BandPlace::State::cannot_be_judged};
    if (!has_band(*verdict)) return {.state = BandPlace::State::no_limits};
    return {.state = BandPlace::State::in_band,
            .band = static_cast<std::size_t>(*verdict->band_index),
            .bands = verdict->bands.size(),
            .exceeds_from = first_exceeding(verdict->bands)};
}

QString place_glyph(const BandPlace& place)
{
    switch (place.state) {
    case BandPlace::State::nothing: return {};
    case BandPlace::State::cannot_be_judged: return QStringLiteral("?");
    case BandPlace::State::no_limits: return QStringLiteral("-");
    case BandPlace::State::in_band: break;
    }
    QString glyph(static_cast<qsizetype>(place.bands), QChar(u'.'));
    glyph[static_cast<qsizetype>(place.band)] = QChar(u'#');
    return glyph;
}

QString space_words(const Survey& survey, std::string_view id)
{
    const Space* space = survey.space(id);
    return shown(space != nullptr && !space->label.empty() ? std::string_view(space->label) : id);
}

QString condition_words(const Survey& survey, std::string_view id)
{
    const Condition* condition = survey.condition(id);
    return shown(condition != nullptr && !condition->title.empty() ? std::string_view(condition->title) : id);
}

QString criterion_words(std::string_view edition, std::string_view title, std::string_view id)
{
    if (edition.empty() && title.empty()) return shown(id);
    if (edition.empty() || title.empty()) return shown(edition.empty() ? title : edition);
    return shown(edition) + QStringLiteral(", ") + shown(title);
}

} // namespace becalm::desktop

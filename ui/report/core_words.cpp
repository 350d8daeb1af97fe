#include "ui/report/core_words.h"

#include <algorithm>
#include <array>
#include <optional>
#include <span>

#include "evaluators/quantity.h"
#include "src/base/problem.h"

namespace becalm::report {
namespace {

// What the judgement calls by a name of its own, in each language.
struct Named {
    std::string_view name;
    Phrase english, german, french;

    const Phrase& in(Language language) const
    {
        return language == Language::german ? german : language == Language::french ? french : english;
    }
};

const Named* row_of(std::span<const Named> rows, std::string_view name)
{
    const auto found = std::ranges::find(rows, name, &Named::name);
    return found == rows.end() ? nullptr : &*found;
}

// A quantity's English words are those of the register.
struct Meaning {
    std::string_view name;
    Phrase german, french;
};
constexpr auto meanings = std::to_array<Meaning>({
    {"weighted_rms", "Effektivwert der frequenzbewerteten Beschleunigung",
     "valeur efficace pondérée de l’accélération"},
    {"mtvv_linear", "größter gleitender Effektivwert, lineare Mittelung (1 s)",
     "plus grande valeur efficace glissante, intégration linéaire (1 s)"},
    {"mtvv_exponential", "größter gleitender Effektivwert, exponentielle Mittelung (1 s)",
     "plus grande valeur efficace glissante, moyenne exponentielle (1 s)"},
    {"peak", "größte frequenzbewertete Beschleunigung", "plus grande accélération pondérée"},
    {"msdv", "Kinetose-Dosiswert (MSDV)", "valeur de dose du mal des transports (MSDV)"},
    {"vdv", "Schwingungsdosiswert (VDV)", "valeur de dose vibratoire (VDV)"},
    {"evdv", "geschätzter Schwingungsdosiswert (eVDV)", "valeur estimée de dose vibratoire (eVDV)"},
    {"daily_exposure", "Tagesexposition A(8)", "exposition journalière A(8)"},
    {"daily_vdv", "täglicher Schwingungsdosiswert (VDV)", "valeur de dose vibratoire journalière (VDV)"},
    {"daily_evdv", "geschätzter täglicher Schwingungsdosiswert (eVDV)",
     "valeur estimée de dose vibratoire journalière (eVDV)"},
    {"exposure_points", "Expositionspunkte eines Tages", "points d’exposition d’une journée"},
    {"seat_rms", "SEAT-Wert, Effektivwert auf dem Sitz zu dem am Boden",
     "facteur SEAT, valeur efficace sur le siège rapportée au plancher"},
    {"seat_vdv", "SEAT-Wert, Dosis auf dem Sitz zu der am Boden",
     "facteur SEAT, dose sur le siège rapportée au plancher"},
    {"seat_psd", "SEAT-Wert, bewertetes Spektrum auf dem Sitz zu dem am Boden",
     "facteur SEAT, spectre pondéré sur le siège rapporté au plancher"},
    {"vomiting_percent", "Anteil der Personen, die sich erbrechen könnten", "part des personnes susceptibles de vomir"},
    {"weighted_velocity", "Effektivwert der frequenzbewerteten Schwinggeschwindigkeit",
     "valeur efficace pondérée de la vitesse"},
    {"event_rms", "statistischer Höchstwert über Ereignisse der gleitenden Effektivwerte der Beschleunigung",
     "maximum statistique, sur les événements, de la valeur efficace glissante de l’accélération"},
    {"event_velocity",
     "statistischer Höchstwert über Ereignisse der gleitenden Effektivwerte der Schwinggeschwindigkeit",
     "maximum statistique, sur les événements, de la valeur efficace glissante de la vitesse"},
    {"block_rms", "Perzentil der Effektivwerte aufeinanderfolgender Abschnitte",
     "percentile des valeurs efficaces de blocs consécutifs"},
    {"comfort_index", "Perzentil der Effektivwerte aufeinanderfolgender Abschnitte, mal den Faktoren des Kriteriums",
     "percentile des valeurs efficaces de blocs consécutifs, multiplié par les facteurs du critère"},
    {"component_peak", "Spitzenwert des größten Frequenzanteils über der Kurve des Kriteriums",
     "valeur de crête de la composante dépassant le plus la courbe du critère"},
    {"curve_transition_percent", "Anteil der mit einem Übergangsbogen unzufriedenen Fahrgäste",
     "part des voyageurs insatisfaits d’une transition de courbe"},
    {"discrete_event_percent", "Anteil der mit einem Einzelereignis unzufriedenen Fahrgäste",
     "part des voyageurs insatisfaits d’un événement local"},
    {"ride_index_components", "Laufgüteindex aus Frequenzanteilen", "indice de roulement, par composantes"},
    {"ride_index_weighted", "Laufgüteindex aus dem bewerteten Signal", "indice de roulement, par signal pondéré"},
    {"swing_greatest", "größter Spitze-Spitze-Wert", "plus grande valeur crête à crête"},
    {"swing_a95", "Spitze-Spitze-Wert, den 95 % nicht überschreiten",
     "valeur crête à crête non dépassée par 95 % d’entre elles"},
    {"jerk_greatest", "größter Ruck", "plus grande secousse (jerk)"},
    {"ride_acceleration_a95", "Beschleunigung, die 95 % während der Geschwindigkeitsänderung nicht überschreiten",
     "accélération non dépassée par 95 % des valeurs pendant le changement de vitesse"},
    {"motion_rms", "Effektivwert der Beschleunigung langsamer Bewegungen um ihren Mittelwert",
     "valeur efficace de l’accélération des mouvements lents autour de leur moyenne"},
    {"running_velocity", "größter gleitender Effektivwert der bewerteten Schwinggeschwindigkeit (1 s)",
     "plus grande valeur efficace glissante de la vitesse pondérée (1 s)"},
    {"response_factor", "größter gleitender Effektivwert (1 s), bezogen auf den Grundwert der Kurve",
     "plus grande valeur efficace glissante (1 s) rapportée à la valeur de base de la courbe"},
    {"kb_fmax",
     "maximale bewertete Schwingstärke KB_Fmax, gleitender Effektivwert (0,125 s) der bewerteten "
     "Schwinggeschwindigkeit in mm/s",
     "plus grand KB_F, valeur efficace glissante (0,125 s) de la vitesse pondérée en mm/s"},
    {"kb_ftm", "Taktmaximal-Effektivwert KB_FTm, Effektivwert der größten KB_F je 30 s",
     "moyenne quadratique KB_FTm des plus grands KB_F de chaque tranche de 30 s"},
    {"kb_ftr", "Beurteilungs-Schwingstärke KB_FTr, Beitrag eines Betriebszustands",
     "KB_FTr, KB_F moyenné sur la période, contribution d’une condition"},
    {"curve_ratio", "größter Terz-Effektivwert, bezogen auf die Kurve",
     "plus grande valeur efficace par tiers d’octave rapportée à la courbe"},
    {"curve_level", "größter Terzpegel über der Kurve", "plus grand niveau par tiers d’octave au-dessus de la courbe"},
    {"peak_ratio", "größte Beschleunigung, bezogen auf die Kurve bei der Eigenfrequenz",
     "plus grande accélération rapportée à la courbe à la fréquence propre"},
    {"velocity_level", "Pegel des größten Effektivwerts der Schwinggeschwindigkeit (1 s)",
     "niveau de la plus grande valeur efficace de la vitesse (1 s)"},
    {"vibration_level", "lotrechter Schwingungspegel, Mittelwert", "niveau vibratoire vertical, moyen"},
    {"vibration_level_max", "Schwingungspegel, Höchstwert", "niveau vibratoire, maximum"},
    {"vibration_level_l10", "in einem Zehntel der Zeit überschrittener Schwingungspegel",
     "niveau vibratoire dépassé pendant un dixième du temps"},
    {"band_level", "größter bewerteter Terzpegel", "plus grand niveau pondéré par tiers d’octave"},
    {"source_rms", "statistischer Höchstwert über Ereignisse, ohne die Hintergrundschwingung",
     "maximum statistique sur les événements, vibration résiduelle déduite"},
    {"ranked_velocity", "bewertete Schwinggeschwindigkeit, die so viele Ereignisse der Nacht erreichen",
     "vitesse pondérée atteinte par ce nombre d’événements de la nuit"},
    {"peak_percent_g", "größte Beschleunigung in Prozent der Fallbeschleunigung",
     "plus grande accélération en pour cent de la pesanteur"},
    {"espa", "äquivalente sinusförmige Spitzenbeschleunigung in Prozent der Fallbeschleunigung",
     "accélération de crête sinusoïdale équivalente en pour cent de la pesanteur"},
    {"one_step_rms", "Perzentil über Gänge des bewerteten Effektivwerts der Schwinggeschwindigkeit",
     "percentile, sur les passages à pied, de la valeur efficace pondérée de la vitesse"},
});

// [iso2631-1-1997, 6.1, 6.3.1, 6.3.2, D.1.2; bs6472-1-2008, 3 and 4; directive-2002-44-ec, annex, B] (from memory)
constexpr auto formulas = std::to_array<Named>({
    {"weighted_rms", "square root of the mean of the squared weighted acceleration over the judged duration",
     "Wurzel aus dem zeitlichen Mittelwert der quadrierten bewerteten Beschleunigung über die beurteilte Dauer",
     "racine de la moyenne du carré de l’accélération pondérée sur la durée évaluée"},
    {"mtvv_linear", "greatest square root of the mean of the squared weighted acceleration over any 1 s",
     "größte Wurzel aus dem Mittelwert der quadrierten bewerteten Beschleunigung über jeweils 1 s",
     "plus grande racine de la moyenne du carré de l’accélération pondérée sur 1 s quelconque"},
    {"mtvv_exponential",
     "greatest value of the running r.m.s. of the weighted acceleration, averaged exponentially with a time constant "
     "of 1 s",
     "größter gleitender Effektivwert der bewerteten Beschleunigung, exponentiell gemittelt mit der Zeitkonstante 1 s",
     "plus grande valeur efficace glissante de l’accélération pondérée, en moyenne exponentielle de constante de temps "
     "1 s"},
    {"vdv", "fourth root of the integral over time of the fourth power of the weighted acceleration",
     "vierte Wurzel aus dem Zeitintegral der vierten Potenz der bewerteten Beschleunigung",
     "racine quatrième de l’intégrale sur le temps de la puissance quatrième de l’accélération pondérée"},
    {"evdv", "1.4 times the weighted r.m.s. acceleration times the fourth root of the duration in seconds",
     "1,4 mal Effektivwert der bewerteten Beschleunigung mal vierte Wurzel aus der Dauer in Sekunden",
     "1,4 fois la valeur efficace pondérée de l’accélération fois la racine quatrième de la durée en secondes"},
    {"msdv", "square root of the integral over time of the squared weighted acceleration",
     "Wurzel aus dem Zeitintegral der quadrierten bewerteten Beschleunigung",
     "racine de l’intégrale sur le temps du carré de l’accélération pondérée"},
    {"daily_exposure",
     "square root of the sum over the tasks of the squared weighted r.m.s. acceleration times its duration, divided by "
     "the reference duration",
     "Wurzel aus der Summe über die Tätigkeiten der Quadrate des bewerteten Effektivwerts mal seiner Dauer, geteilt "
     "durch die Bezugsdauer",
     "racine de la somme, sur les tâches, du carré de la valeur efficace pondérée fois sa durée, divisée par la durée "
     "de référence"},
    {"peak", "greatest magnitude of the weighted acceleration", "größter Betrag der bewerteten Beschleunigung",
     "plus grande valeur absolue de l’accélération pondérée"},
});

// src/model/finding.h: what evaluators/fitness, survey_conditions, assess and verdicts may find.
constexpr auto finding_titles = std::to_array<Named>({
    {"not-a-number", "Samples that are no numbers", "Abtastwerte, die keine Zahlen sind",
     "échantillons qui ne sont pas des nombres"},
    {"too-short", "Too short", "zu kurz", "trop court"},
    {"constant-channel", "Constant channel", "konstanter Kanal", "voie constante"},
    {"clipped", "Clipping", "Übersteuerung", "écrêtage"},
    {"drop-out", "Drop-out", "Aussetzer", "coupure du signal"},
    {"resampled", "Resampled", "neu abgetastet", "rééchantillonné"},
    {"spike", "Spikes", "Störspitzen", "pics parasites"},
    {"rattle", "Rattle", "Klappern", "cliquetis"},
    {"flattened", "Flattened extremes", "abgeflachte Spitzen", "crêtes aplaties"},
    {"stuck-bit", "Stuck bit", "festes Bit", "bit bloqué"},
    {"drift", "Drift of the mean", "Drift des Mittelwerts", "dérive de la moyenne"},
    {"mains-hum", "Mains hum", "Netzbrummen", "ronflement du secteur"},
    {"coarse-steps", "Coarse resolution", "grobe Auflösung", "résolution grossière"},
    {"unsteady", "Level changes", "Pegel ändert sich", "niveau instable"},
    {"wrong-axis", "Wrong axis", "falsche Achse", "axe erroné"},
    {"polarity", "Polarity", "Polarität", "polarité"},
    {"swapped-channels", "Channels exchanged", "vertauschte Kanäle", "voies interverties"},
    {"sensor-mix-up", "Sensors mixed up", "Sensoren verwechselt", "capteurs confondus"},
    {"calibration-expired", "Calibration expired", "Kalibrierung abgelaufen", "étalonnage périmé"},
    {"sensitivity-drift", "Sensitivity changed", "Empfindlichkeit verändert", "sensibilité modifiée"},
    {"calibration-check", "Calibration check", "Kalibrierprüfung", "contrôle d’étalonnage"},
    {"calibration-off", "Calibration check off", "Kalibrierprüfung weicht ab", "contrôle hors tolérance"},
    {"calibration-drift", "Drift between checks", "Drift zwischen den Prüfungen", "dérive entre contrôles"},
    {"noise-floor", "Noise near the limit", "Rauschen nahe am Grenzwert", "bruit proche de la limite"},
    {"rate-off", "Rate differs", "Abtastrate weicht ab", "fréquence d’échantillonnage discordante"},
    {"time-gap", "Gap in time", "Zeitlücke", "lacune temporelle"},
    {"data-sheet", "Data sheet unreadable", "Datenblatt nicht lesbar", "fiche du capteur illisible"},
    {"sensitivity-differs", "Sensitivity differs", "Empfindlichkeit weicht ab", "sensibilité discordante"},
    {"unit", "Unit or scale", "Einheit oder Maßstab", "unité ou échelle"},
    {"gravity", "Carries gravity", "enthält die Fallbeschleunigung", "contient la pesanteur"},
    {"gravity-in-g", "Unit may be g", "Einheit möglicherweise g", "unité peut-être en g"},
    {"offset", "Offset", "Gleichanteil", "composante continue"},
    {"rate-too-low", "Rate too low", "Abtastrate zu niedrig", "fréquence d’échantillonnage trop basse"},
    {"two-rates", "Different rates", "verschiedene Abtastraten", "fréquences d’échantillonnage différentes"},
    {"unreadable", "Unreadable", "nicht lesbar", "illisible"},
    {"exclusion-outside", "Left-out span outside the recording", "ausgenommener Abschnitt außerhalb der Aufzeichnung",
     "intervalle exclu hors de l’enregistrement"},
    {"missing-axis", "Missing axis", "fehlende Achse", "axe manquant"},
    {"no-condition", "No condition named", "kein Betriebszustand angegeben", "aucune condition indiquée"},
    {"shaft-speed", "Shaft speed not noted", "Wellendrehzahl nicht angegeben", "vitesse d’arbre non indiquée"},
    {"sea-state", "Sea state", "Seegang", "état de la mer"},
    {"wind", "Wind", "Wind", "vent"},
    {"shallow-water", "Shallow water", "flaches Wasser", "faible profondeur d’eau"},
    {"directions", "Not three directions", "nicht in drei Richtungen gemessen", "pas mesuré dans les trois directions"},
    {"section-speed", "Speed not noted", "Geschwindigkeit nicht angegeben", "vitesse non indiquée"},
    {"section-speeds-differ", "Speeds differ", "verschiedene Geschwindigkeiten", "vitesses différentes"},
    {"old-calibration", "Old calibration", "Kalibrierung veraltet", "étalonnage ancien"},
});

// evaluators/value_budget.cpp
constexpr auto uncertainty_parts = std::to_array<Named>({
    {"calibration", "calibration", "Kalibrierung", "étalonnage"},
    {"drift", "drift", "Drift", "dérive"},
    {"filter", "filter", "Filter", "filtre"},
    {"mounting", "mounting", "Ankopplung", "fixation"},
    {"position", "position", "Messpunkt", "point de mesure"},
    {"statistics", "statistics", "Statistik", "statistique"},
});

// ui/report/inputs.h
constexpr auto input_kinds = std::to_array<Named>({
    {"version", "version", "Version", "version"},
    {"survey", "survey", "Messkampagne", "campagne"},
    {"asked", "asked", "vorgegeben", "demandé"},
    {"recording", "recording", "Aufzeichnung", "enregistrement"},
    {"criterion", "criterion", "Kriterium", "critère"},
    {"assessment", "assessment", "Beurteilung", "évaluation"},
});

// Sentences that stand in nearly every report, as evaluators/ say them; {} is a number, an axis or a unit.
struct Sentence {
    std::string_view english;
    Phrase german, french;
};
constexpr auto sentences = std::to_array<Sentence>({
    {"the first {} s are left out while the filter settles",
     "die ersten {} s bleiben unberücksichtigt, während das Filter einschwingt",
     "les {} premières secondes sont exclues, pendant la mise en régime du filtre"},
    {"{} s excluded", "{} s ausgenommen", "{} s exclues"},
    {"{} s measured, taken to stand for {} h (the whole period: the condition states no exposure_h or events)",
     "{} s gemessen, stellvertretend für {} h (den ganzen Zeitraum: Der Betriebszustand nennt weder exposure_h noch "
     "events)",
     "{} s mesurées, représentatives de {} h (toute la période\u00a0: la condition n’indique ni exposure_h ni events)"},
    {"{} s measured, taken to stand for {} h", "{} s gemessen, stellvertretend für {} h",
     "{} s mesurées, représentatives de {} h"},
    {"verdicts are guarded; times are those of the values without their uncertainty",
     "die Beurteilungen berücksichtigen die Messunsicherheit; die Zeiten gelten für die Werte ohne sie",
     "les évaluations tiennent compte de l’incertitude\u00a0; les durées sont celles des valeurs sans elle"},
    {"{} s measured, exposure {} h a day", "{} s gemessen, Exposition {} h am Tag",
     "{} s mesurées, exposition de {} h par jour"},
    {"not measured: axis {}; a higher value there would go unnoticed",
     "nicht gemessen: Achse {}; ein größerer Wert dort bliebe unbemerkt",
     "non mesuré\u00a0: axe {}\u00a0; une valeur plus grande y passerait inaperçue"},
    {"over the measured {} s", "über die gemessenen {} s", "sur les {} s mesurées"},
    {"{} events in the period like the {} recorded", "Ereignisse im Zeitraum: {}, wie die aufgezeichneten ({})",
     "événements dans la période\u00a0: {}, semblables à ceux enregistrés ({})"},
    {"axis {}: MTVV is {} times a_w, above 1.5: the running r.m.s. tells more here (ISO 2631-1, 6.3.3)",
     "Achse {}: MTVV ist das {}-Fache von a_w, mehr als 1,5: Der gleitende Effektivwert sagt hier mehr aus (ISO "
     "2631-1, 6.3.3)",
     "axe {}\u00a0: MTVV vaut {} fois a_w, plus de 1,5\u00a0: la valeur efficace glissante en dit ici davantage (ISO "
     "2631-1, 6.3.3)"},
    {"axis {}: VDV is {} times a_w T^(1/4), above 1.75: the dose tells more here (ISO 2631-1, 6.3.3)",
     "Achse {}: VDV ist das {}-Fache von a_w T^(1/4), mehr als 1,75: Die Dosis sagt hier mehr aus (ISO 2631-1, 6.3.3)",
     "axe {}\u00a0: VDV vaut {} fois a_w T^(1/4), plus de 1,75\u00a0: la dose en dit ici davantage (ISO 2631-1, "
     "6.3.3)"},
    {"axis {}: crest factor {}: the r.m.s. value may underestimate; look at MTVV and VDV too (ISO 2631-1, 6.2.1)",
     "Achse {}: Scheitelfaktor {}: Der Effektivwert kann die Einwirkung unterschätzen; MTVV und VDV sind ebenfalls zu "
     "betrachten (ISO 2631-1, 6.2.1)",
     "axe {}\u00a0: facteur de crête {}\u00a0: la valeur efficace peut sous-estimer\u00a0; considérer aussi MTVV et "
     "VDV (ISO 2631-1, 6.2.1)"},
    {"the publication sets no limits; the value is reported",
     "die Veröffentlichung setzt keine Anforderung; der Wert wird mitgeteilt",
     "la publication ne fixe pas de limite\u00a0; la valeur est communiquée"},
    {"guarded: the value with its expanded uncertainty, {} {}, is compared (JCGM 106:2012)",
     "verglichen wird der Wert mit seiner erweiterten Messunsicherheit, {} {} (JCGM 106:2012)",
     "on compare la valeur avec son incertitude élargie, {} {} (JCGM 106:2012)"},
    {"the {} is taken to follow the root of the mean square; it follows the greatest moments more",
     "es wird angenommen, dass {} dem Effektivwert folgt; tatsächlich folgt die Größe stärker den größten "
     "Augenblickswerten",
     "on admet que {} suit la valeur efficace\u00a0; en réalité la grandeur suit davantage les plus grandes valeurs "
     "instantanées"},
    {"the value is a level; shares are of its mean square",
     "der Wert ist ein Pegel; die Anteile beziehen sich auf sein quadratisches Mittel",
     "la valeur est un niveau\u00a0; les parts sont celles de sa moyenne quadratique"},
    {"the survey names no sources; add [[source]] tables and every component that fits is named",
     "die Messkampagne nennt keine Quellen; mit [[source]] wird jeder passende Anteil zugeordnet",
     "la campagne n’indique aucune source\u00a0; avec [[source]], chaque composante concordante est attribuée"},
});

// What stands for the {} of `pattern` in `text`; nothing where it is another sentence.
std::optional<std::array<std::string, 2>> filled_into(std::string_view pattern, std::string_view text)
{
    constexpr std::size_t longest = 16; // letters: more is no number
    std::array<std::string, 2> found;
    for (std::size_t i = 0;; ++i) {
        const std::size_t place = pattern.find("{}");
        const std::string_view piece = pattern.substr(0, place);
        if (!text.starts_with(piece)) return {};
        text.remove_prefix(piece.size());
        if (place == std::string_view::npos) return text.empty() ? std::optional(found) : std::nullopt;
        BECALM_ASSERT(i < found.size());
        pattern.remove_prefix(place + 2);
        const std::string_view next = pattern.substr(0, pattern.find("{}"));
        const std::size_t end = next.empty() ? text.size() : text.find(next);
        if (end == 0 || end == std::string_view::npos || end > longest) return {};
        found[i] = text.substr(0, end);
        text.remove_prefix(end);
    }
}

std::string words_in(std::span<const Named> rows, std::string_view name, Language language)
{
    const Named* row = row_of(rows, name);
    return row == nullptr ? std::string(name) : row->in(language).text();
}

} // namespace

std::string quantity_words(std::string_view name, Language language)
{
    const evaluators::Quantity* quantity = evaluators::quantity_named(name);
    std::string text(quantity == nullptr ? name : quantity->meaning);
    const auto meaning = std::ranges::find(meanings, name, &Meaning::name);
    if (language != Language::english && meaning != meanings.end())
        text = (language == Language::german ? meaning->german : meaning->french).text();
    if (const Named* formula = row_of(formulas, name))
        text += (language == Language::french ? "\u00a0: " : ": ") + formula->in(language).text();
    return text;
}

std::string finding_title(std::string_view code, Language language) { return words_in(finding_titles, code, language); }

std::optional<std::string> sentence_words(std::string_view english, Language language)
{
    if (language == Language::english) return std::string(english);
    for (const Sentence& sentence : sentences)
        if (const auto found = filled_into(sentence.english, english)) {
            const auto in_digits = [&](std::size_t i) { return figures::in_digits_of(language, (*found)[i]); };
            return filled(language == Language::german ? sentence.german : sentence.french, in_digits(0), in_digits(1));
        }
    return {};
}

std::string uncertainty_part_words(std::string_view name, Language language)
{
    return words_in(uncertainty_parts, name, language);
}

std::string input_kind_words(std::string_view kind, Language language) { return words_in(input_kinds, kind, language); }

} // namespace becalm::report

#include "ui/figures/figure_words.h"

#include <algorithm>

#include "src/model/axis.h"
#include "ui/figures/text.h"

namespace becalm::figures {
namespace {

constexpr FigureWords english{
    .frequency = "frequency",
    .one_third_octave = "one-third octave",
    .time = "time",
    .clock_time = "clock time",
    .value = "value",
    .limits = "limits",
    .left_out = "left out",
    .no_data = "no data",
    .nothing_to_show = "nothing to show",
    .months = {"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"},
    .days = "days",
    .days_and_hours = "days, h:min",
    .day = "d",
    .uncertainty_not_stated = "uncertainty not stated",
    .below_next_limit = "{} below the next limit",
    .above_last_limit = "{} above the last limit",
    .percent_of_limit = " ({} % of it)",
    .within_uncertainty = ", within the uncertainty",
    .not_judged = "not judged",
    .not_judged_because = "not judged: {}",
    .hatched_exceeds = "hatched: exceeds the criterion",
    .not_known = "not known",
    .other = "other",
    .others = "others",
    .share_of_energy = "share of the weighted energy",
    .unexplained = "unexplained, {} Hz",
    .axis = "axis {}",
    .rest = "broad, and fainter components",
    .least_to_greatest = "least to greatest",
    .named_least_to_greatest = "{}, least to greatest",
    .peak_of_each = "peak of each {}",
    .rms_of_each = "r.m.s. of each {}",
    .second = "second",
    .seconds = "{} s",
    .change = "change",
    .against = "{} against {}",
    .date = "date",
    .within_allowed = "within what is allowed",
    .exceeding = "exceeds",
    .measured = "measured",
    .measured_uncertain = "measured, with its expanded uncertainty (k = 2)",
    .fitted_line = "fitted line",
    .further_values = "95 % of further values",
    .weighted_spectrum = "Weighted spectrum",
    .weighted_bands = "Weighted one-third octaves",
    .spectrum_over_time = "Weighted spectrum over time",
    .what_carries = "What carries the value",
    .of_axis = "{}, axis {}",
    .weighted_density = "weighted density",
    .weighted_rms = "weighted r.m.s.",
    .how_made = "{}, {} Hz between the bins, Hann window, half overlapping",
    .weighting_shape = "shape of {}",
    .curve_times = "curve times {}",
    .curve_of_criterion = "curve of the criterion",
    .list_separator = ", ",
    .positions = {"floor", "seat-pan", "seat-back", "feet", "bed", "head", "hand-left", "hand-right"},
    .no_room_for_label = "marked without room for a label: {}",
    .beyond_axis = "beyond the axis: {}",
    .of_series = " of {}",
    .value_not_on_axis = "{} value{} at or below zero has no place on a logarithmic axis: left out",
    .values_not_on_axis = "{} values{} at or below zero have no place on a logarithmic axis: left out",
    .value_infinite = "{} value{} is infinite: left out",
    .values_infinite = "{} values{} are infinite: left out",
    .place_not_on_axis = "{} place at or below zero has no place on a logarithmic axis: left out",
    .places_not_on_axis = "{} places at or below zero have no place on a logarithmic axis: left out",
    .range = "{} to {}",
    .plot_of = "Plot of {} from {} over {} from {}.",
    .values = "Values",
    .colours = " Colours: {}, {}.",
    .marked_at = " Marked at {}: {}.",
    .line_at = " Line at {}: {}.",
    .band = " Band {}",
    .from = " from {}",
    .to = " to {}",
    .left_out_span = " Left out from {} to {}: {}.",
    .shares = "Shares, {}.",
    .of_the_whole = "of the whole",
    .exceeds = ", exceeds",
    .holds_value = ", holds the value",
};

constexpr FigureWords german{
    .frequency = "Frequenz",
    .one_third_octave = "Terz",
    .time = "Zeit",
    .clock_time = "Uhrzeit",
    .value = "Wert",
    .limits = "Grenzen",
    .left_out = "ausgenommen",
    .no_data = "keine Daten",
    .nothing_to_show = "nichts darzustellen",
    .months = {"Jan", "Feb", "Mär", "Apr", "Mai", "Jun", "Jul", "Aug", "Sep", "Okt", "Nov", "Dez"},
    .days = "Tage",
    .days_and_hours = "Tage, h:min",
    .day = "d",
    .uncertainty_not_stated = "Unsicherheit nicht angegeben",
    .below_next_limit = "{} unter der nächsten Grenze",
    .above_last_limit = "{} über der letzten Grenze",
    .percent_of_limit = " ({} % davon)",
    .within_uncertainty = ", innerhalb der Messunsicherheit",
    .not_judged = "nicht beurteilt",
    .not_judged_because = "nicht beurteilt: {}",
    .hatched_exceeds = "schraffiert: Anforderung überschritten",
    .not_known = "nicht bekannt",
    .other = "weitere",
    .others = "weitere",
    .share_of_energy = "Anteil an der bewerteten Energie",
    .unexplained = "nicht zugeordnet, {} Hz",
    .axis = "Achse {}",
    .rest = "breitbandig und schwächere Anteile",
    .least_to_greatest = "kleinster bis größter Wert",
    .named_least_to_greatest = "{}, kleinster bis größter Wert",
    .peak_of_each = "Spitzenwert je {}",
    .rms_of_each = "Effektivwert je {}",
    .second = "Sekunde",
    .seconds = "{} s",
    .change = "Änderung",
    .against = "{} gegenüber {}",
    .date = "Datum",
    .within_allowed = "innerhalb des Zulässigen",
    .exceeding = "überschreitet",
    .measured = "gemessen",
    .measured_uncertain = "gemessen, mit erweiterter Messunsicherheit (k = 2)",
    .fitted_line = "Ausgleichsgerade",
    .further_values = "95 % weiterer Werte",
    .weighted_spectrum = "Frequenzbewertetes Spektrum",
    .weighted_bands = "Frequenzbewertete Terzen",
    .spectrum_over_time = "Frequenzbewertetes Spektrum über der Zeit",
    .what_carries = "Was den Wert bestimmt",
    .of_axis = "{}, Achse {}",
    .weighted_density = "bewertete spektrale Leistungsdichte",
    .weighted_rms = "bewerteter Effektivwert",
    .how_made = "{}, Linienabstand {} Hz, Hann-Fenster, 50 % Überlappung",
    .weighting_shape = "Verlauf von {}",
    .curve_times = "Kurve mal {}",
    .curve_of_criterion = "Kurve der Beurteilungsgrundlage",
    .list_separator = "; ",
    .positions = {"Boden", "Sitzfläche", "Rückenlehne", "Füße", "Bett", "Kopf", "linke Hand", "rechte Hand"},
    .no_room_for_label = "markiert, ohne Platz für eine Beschriftung: {}",
    .beyond_axis = "außerhalb der Achse: {}",
    .of_series = " von {}",
    .value_not_on_axis = "{} Wert{} bei oder unter null hat auf einer logarithmischen Achse keinen Platz: ausgelassen",
    .values_not_on_axis = "{} Werte{} bei oder unter null haben auf einer logarithmischen Achse keinen Platz: "
                          "ausgelassen",
    .value_infinite = "{} Wert{} ist unendlich: ausgelassen",
    .values_infinite = "{} Werte{} sind unendlich: ausgelassen",
    .place_not_on_axis = "{} Stelle bei oder unter null hat auf einer logarithmischen Achse keinen Platz: ausgelassen",
    .places_not_on_axis = "{} Stellen bei oder unter null haben auf einer logarithmischen Achse keinen Platz: "
                          "ausgelassen",
    .range = "{} bis {}",
    .plot_of = "Diagramm: {}, {}, über {}, {}.",
    .values = "Werte",
    .colours = " Farben: {}, {}.",
    .marked_at = " Markierung bei {}: {}.",
    .line_at = " Linie bei {}: {}.",
    .band = " Stufe {}",
    .from = " ab {}",
    .to = " bis {}",
    .left_out_span = " Ausgenommen von {} bis {}: {}.",
    .shares = "Anteile, {}.",
    .of_the_whole = "am Ganzen",
    .exceeds = ", überschreitet",
    .holds_value = ", enthält den Wert",
};

constexpr FigureWords french{
    .frequency = "fréquence",
    .one_third_octave = "tiers d’octave",
    .time = "temps",
    .clock_time = "heure",
    .value = "valeur",
    .limits = "limites",
    .left_out = "exclu",
    .no_data = "pas de données",
    .nothing_to_show = "rien à représenter",
    .months = {"janv.", "févr.", "mars", "avr.", "mai", "juin", "juil.", "août", "sept.", "oct.", "nov.", "déc."},
    .days = "jours",
    .days_and_hours = "jours, h:min",
    .day = "d",
    .uncertainty_not_stated = "incertitude non indiquée",
    .below_next_limit = "{} sous la limite suivante",
    .above_last_limit = "{} au-dessus de la dernière limite",
    .percent_of_limit = " ({} % de celle-ci)",
    .within_uncertainty = ", dans l’incertitude de mesure",
    .not_judged = "non évalué",
    .not_judged_because = "non évalué\u00a0: {}",
    .hatched_exceeds = "hachuré\u00a0: exigence dépassée",
    .not_known = "inconnu",
    .other = "autre",
    .others = "autres",
    .share_of_energy = "part de l’énergie pondérée",
    .unexplained = "non attribué, {} Hz",
    .axis = "axe {}",
    .rest = "large bande et composantes plus faibles",
    .least_to_greatest = "du minimum au maximum",
    .named_least_to_greatest = "{}, du minimum au maximum",
    .peak_of_each = "valeur de crête par {}",
    .rms_of_each = "valeur efficace par {}",
    .second = "seconde",
    .seconds = "{} s",
    .change = "variation",
    .against = "{} par rapport à {}",
    .date = "date",
    .within_allowed = "dans les limites admises",
    .exceeding = "dépasse",
    .measured = "mesuré",
    .measured_uncertain = "mesuré, avec l’incertitude élargie (k = 2)",
    .fitted_line = "droite ajustée",
    .further_values = "95 % des valeurs ultérieures",
    .weighted_spectrum = "Spectre pondéré",
    .weighted_bands = "Tiers d’octave pondérés",
    .spectrum_over_time = "Spectre pondéré au cours du temps",
    .what_carries = "Ce qui détermine la valeur",
    .of_axis = "{}, axe {}",
    .weighted_density = "densité spectrale pondérée",
    .weighted_rms = "valeur efficace pondérée",
    .how_made = "{}, résolution {} Hz, fenêtre de Hann, recouvrement 50 %",
    .weighting_shape = "allure de {}",
    .curve_times = "courbe multipliée par {}",
    .curve_of_criterion = "courbe du critère",
    .list_separator = "\u00a0; ",
    .positions = {"plancher", "assise", "dossier", "pieds", "lit", "tête", "main gauche", "main droite"},
    .no_room_for_label = "repéré, sans place pour une étiquette\u00a0: {}",
    .beyond_axis = "hors de l’axe\u00a0: {}",
    .of_series = " de {}",
    .value_not_on_axis = "{} valeur{} nulle ou négative n’a pas de place sur un axe logarithmique\u00a0: omise",
    .values_not_on_axis = "{} valeurs{} nulles ou négatives n’ont pas de place sur un axe logarithmique\u00a0: omises",
    .value_infinite = "{} valeur{} est infinie\u00a0: omise",
    .values_infinite = "{} valeurs{} sont infinies\u00a0: omises",
    .place_not_on_axis = "{} abscisse nulle ou négative n’a pas de place sur un axe logarithmique\u00a0: omise",
    .places_not_on_axis = "{} abscisses nulles ou négatives n’ont pas de place sur un axe logarithmique\u00a0: omises",
    .range = "{} à {}",
    .plot_of = "Diagramme\u00a0: {}, de {}, en fonction de {}, de {}.",
    .values = "Valeurs",
    .colours = " Couleurs\u00a0: {}, {}.",
    .marked_at = " Repère à {}\u00a0: {}.",
    .line_at = " Ligne à {}\u00a0: {}.",
    .band = " Niveau {}",
    .from = " à partir de {}",
    .to = " jusqu’à {}",
    .left_out_span = " Exclu de {} à {}\u00a0: {}.",
    .shares = "Parts, {}.",
    .of_the_whole = "du total",
    .exceeds = ", dépasse",
    .holds_value = ", contient la valeur",
};

// In the words of evaluators/sources.cpp; multiples follow as " x 2".
struct LineNames {
    std::string_view name;
    Phrase german, french;
};
constexpr auto line_names = std::to_array<LineNames>({
    {"shaft", "Welle", "arbre"},
    {"blade passing", "Blattfolge", "passage de pales"},
    {"tooth mesh", "Zahneingriff", "engrènement"},
    {"rotation", "Drehung", "rotation"},
    {"half the pace (lateral)", "halbe Schrittfrequenz (seitlich)", "demi-cadence (latérale)"},
    {"pace", "Schrittfrequenz", "cadence de pas"},
    {"passing", "Passierfrequenz", "passage"},
    {"wheel rotation", "Raddrehung", "rotation de roue"},
    {"mains", "Netzfrequenz", "réseau"},
    {"twice the mains", "doppelte Netzfrequenz", "double du réseau"},
    {"firing", "Zündfolge", "allumage"},
});
constexpr std::string_view order_name = "order "; // with its number

} // namespace

const FigureWords& words_of(Language language)
{
    switch (language) {
    case Language::german: return german;
    case Language::french: return french;
    case Language::english: break;
    }
    return english;
}

std::string position_words(std::string_view position, Language language)
{
    const auto known = position_named(position);
    return std::string(known ? words_of(language).positions[static_cast<std::size_t>(*known)] : position);
}

std::string line_words(std::string_view line, Language language)
{
    if (language == Language::english) return std::string(line);
    if (line.starts_with(order_name))
        return (language == Language::german ? "Ordnung " : "ordre ") +
               in_digits_of(language, std::string(line.substr(order_name.size())));
    const std::size_t multiple = line.rfind(" x ");
    const std::string_view name = line.substr(0, multiple);
    const auto known = std::ranges::find(line_names, name, &LineNames::name);
    if (known == line_names.end()) return std::string(line);
    std::string words(language == Language::german ? known->german : known->french);
    if (multiple != std::string_view::npos) words += " × " + std::string(line.substr(multiple + 3));
    return words;
}

} // namespace becalm::figures

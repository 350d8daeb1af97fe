#include "ui/desktop/gather_tables.h"

#include <QCoreApplication>
#include <algorithm>
#include <set>

#include "evaluators/survey_conditions.h"
#include "src/io/document_keys.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

QString tr(const char* text) { return QCoreApplication::translate("becalm::desktop::Tables", text); }

QString value_title(std::string_view key)
{
    static const std::map<std::string_view, const char*> titles{{"shaft_rpm", "Shaft (1/min)"},
                                                                {"power_percent", "Power (%)"},
                                                                {"speed_kn", "Speed (kn)"},
                                                                {"speed_km_h", "Speed (km/h)"},
                                                                {"wind_bft", "Wind (Beaufort)"},
                                                                {"sea_state", "Sea state"},
                                                                {"water_depth_m", "Water depth (m)"},
                                                                {"draught_m", "Draught (m)"},
                                                                {"temperature_c", "Temperature (°C)"},
                                                                {"traffic_per_h", "Traffic (1/h)"},
                                                                {"load_kg", "Load (kg)"},
                                                                {"persons", "Persons"},
                                                                {"rpm", "Turns (1/min)"},
                                                                {"blades", "Blades"},
                                                                {"cylinders", "Cylinders"},
                                                                {"strokes", "Strokes"},
                                                                {"teeth", "Teeth"},
                                                                {"hz", "Frequency (Hz)"},
                                                                {"spacing_m", "Spacing (m)"},
                                                                {"diameter_m", "Diameter (m)"},
                                                                {"tolerance_percent", "Tolerance (%)"}};
    const auto found = titles.find(key);
    return found == titles.end() ? shown(key) : tr(found->second);
}

TableColumn id_column(const QString& tip)
{
    return {"id", tr("Id"), CellKind::text, tip + QChar(u' ') + tr("Renaming it renames it wherever it is named."), 14};
}

template <class Keys>
void add_values(std::vector<TableColumn>& columns, const Keys& keys)
{
    for (const std::string_view key : keys)
        columns.push_back({std::string(key), value_title(key), CellKind::number, {}, 8});
}

template <class Names>
std::vector<Option> options_of(const Names& names, const QString& nothing = {})
{
    std::vector<Option> options;
    if (!nothing.isEmpty()) options.push_back({QString(), nothing});
    for (const auto& name : names) options.push_back({shown(name), shown(name)});
    return options;
}

// In the survey's words; what counts as too old is said by evaluators/survey_conditions.h.
QString calibration_words(const Survey& survey, const Sensor& sensor)
{
    const auto calibration = evaluators::calibration_in_use(survey, sensor);
    if (!calibration.is_dated) return tr("no date: nobody can tell whether it was calibrated");
    if (calibration.is_old)
        return tr("more than %1 years before its use on %2: have it checked")
            .arg(evaluators::calibration_years)
            .arg(shown(calibration.used));
    if (calibration.used.empty()) return tr("no recording with a start names it");
    return tr("in time for its use until %1").arg(shown(calibration.used));
}

} // namespace

std::vector<std::string> known_uses(const Survey& survey, const io::CriteriaLibrary& library)
{
    std::set<std::string> uses;
    const auto add = [&](const Criterion& criterion) {
        for (const Scale& scale : criterion.scales)
            if (scale.use != "any") uses.insert(scale.use);
    };
    for (const Judge& judge : survey.judges)
        for (const std::string& id : judge.criteria)
            if (const auto criterion = library.criteria.find(id); criterion != library.criteria.end())
                add(criterion->second);
    if (uses.empty())
        for (const auto& [id, criterion] : library.criteria)
            if (std::ranges::find(criterion.settings, survey.setting) != criterion.settings.end()) add(criterion);
    for (const Space& space : survey.spaces) uses.insert(space.use);
    return {uses.begin(), uses.end()};
}

EntryModel* make_sensor_table(Session& session, QObject* parent)
{
    EntryModel::Kind kind{.array = "sensor", .noun = tr("sensor")};
    kind.words = [&session](int row, const std::string&) {
        const auto survey = session.document().survey();
        if (!survey || row >= static_cast<int>(survey->sensors.size())) return QString();
        return calibration_words(*survey, survey->sensors[static_cast<std::size_t>(row)]);
    };
    return new EntryModel(
        session, std::move(kind),
        {id_column(tr("What recordings call it.")),
         {"title", tr("Title"), CellKind::text, {}, 28},
         {"model", tr("Model"), CellKind::text, tr("Maker and type"), 20},
         {"serial", tr("Serial number"), CellKind::text, tr("Held against what a file says of its sensors"), 16},
         {"sensitivity", tr("Sensitivity"), CellKind::number, tr("As its data sheet states it; changes no value"), 10},
         {"sensitivity_unit", tr("Its unit"), CellKind::text, tr("Such as mV/(m/s2)"), 12},
         {"calibrated", tr("Calibrated"), CellKind::date, tr("Year-month-day; Delete empties the cell"), 12},
         {"certificate", tr("Certificate"), CellKind::text, tr("Number on the certificate"), 16},
         {"uncertainty_percent", tr("Uncertainty (%)"), CellKind::number,
          tr("Expanded uncertainty (k = 2) of the sensitivity; it goes into every verdict"), 10},
         {"calibration_valid_months", tr("Valid (months)"), CellKind::number,
          tr("How long a calibration holds; a later recording is a caution"), 10},
         {"noise_m_s2", tr("Noise (m/s2)"), CellKind::number,
          tr("R.m.s. value with the sensor at rest, weighted or within the band that is judged"), 10},
         {"teds", tr("Data sheet (TEDS)"), CellKind::text,
          tr("Electronic data sheet of the sensor: hexadecimal text, or a file in the survey's folder"), 16},
         {"state", tr("Calibration"), CellKind::shown,
          tr("Against the days of use. %1 years is common practice and no rule of a publication.")
              .arg(evaluators::calibration_years),
          48}},
        parent);
}

EntryModel* make_condition_table(Session& session, QObject* parent)
{
    EntryModel::Kind kind{.array = "condition", .noun = tr("condition")};
    kind.options = [](const std::string& key) {
        return key == "period" ? options_of(io::keys::condition_periods, tr("not said")) : std::vector<Option>();
    };
    std::vector<TableColumn> columns{
        id_column(tr("What recordings call it.")),
        {"title", tr("Title"), CellKind::text, {}, 30},
        {"period", tr("Stands for"), CellKind::choice, tr("Part of the day that its recordings stand for"), 10},
        {"exposure_h", tr("Lasts (h)"), CellKind::number, tr("Hours a day, or of the period"), 8},
        {"events", tr("Events"), CellKind::number, tr("How often the recorded event happens in the period"), 8}};
    add_values(columns, io::keys::condition_values);
    return new EntryModel(session, std::move(kind), std::move(columns), parent);
}

EntryModel* make_source_table(Session& session, QObject* parent)
{
    EntryModel::Kind kind{.array = "source", .noun = tr("source"), .needed = {{"kind", "\"other\""}}};
    kind.options = [](const std::string& key) {
        return key == "kind" ? options_of(io::keys::source_kinds) : std::vector<Option>();
    };
    std::vector<TableColumn> columns{
        id_column(tr("What figures call it.")),
        {"title", tr("Title"), CellKind::text, {}, 30},
        {"kind", tr("Kind"), CellKind::choice, tr("Says which frequencies follow from its values"), 12}};
    add_values(columns, io::keys::source_values);
    columns.push_back({"reference_channel", tr("Reference channel"), CellKind::number,
                       tr("Of the recordings' files, where a transducer sits on the source; needs no axis"), 8});
    return new EntryModel(session, std::move(kind), std::move(columns), parent);
}

EntryModel* make_space_table(Session& session, QObject* parent)
{
    EntryModel::Kind kind{.array = "space", .noun = tr("space"), .needed = {{"use", "\"unknown\""}}};
    kind.options = [&session](const std::string& key) {
        const auto survey = session.document().survey();
        if (!survey) return std::vector<Option>();
        if (key == "use") return options_of(known_uses(*survey, session.library()));
        std::set<std::string> groups;
        for (const Space& space : survey->spaces)
            if (!space.group.empty()) groups.insert(space.group);
        return options_of(groups);
    };
    return new EntryModel(
        session, std::move(kind),
        {id_column(tr("What recordings call it.")),
         {"label", tr("Label"), CellKind::text, {}, 30},
         {"use", tr("Use"), CellKind::open_choice,
          tr("Chooses the scale of a criterion: the same motion is worse in a cabin than in a galley"), 26},
         {"group", tr("Group"), CellKind::open_choice, tr("A deck, a storey, a coach"), 22},
         {"position_percent", tr("Place (%)"), CellKind::number,
          tr("Your estimate of what the choice of the place adds to the uncertainty (k = 2), in place of the survey's"),
          10}},
        parent);
}

} // namespace becalm::desktop

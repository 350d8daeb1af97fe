#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "evaluators/quantity.h"
#include "src/base/nearest.h"
#include "src/io/atomic_file.h"
#include "src/io/survey_file.h"
#include "src/model/clock_span.h"
#include "ui/cli/command.h"

namespace becalm::cli {
namespace {

std::string settings_of(const Criterion& criterion)
{
    std::string text;
    for (const Setting setting : criterion.settings) text += (text.empty() ? "" : ", ") + std::string(name_of(setting));
    return text.empty() ? "any" : text;
}

std::string limit_of(const Band& band)
{
    if (!band.limit) return band.from ? fmt::format("from {:.6g}", *band.from) : "above";
    const std::string limit = fmt::format("{} {:.6g}", band.inclusive ? "up to" : "below", *band.limit);
    return band.from ? fmt::format("from {:.6g} {}", *band.from, limit) : limit;
}

class CriteriaCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app =
            parent.command("criteria", "The criteria the program knows: list (default), show ID, check FILE, new ID");
        app.commands_are_optional();
        list_ = app.command("list", "one line each");
        list_.texts("WORD", words_, "only those whose line has every one of these, such as building night");
        show_ = app.command("show", "one of them, whole");
        show_.text("ID", id_, "as list names it", Need::required);
        check_ = app.command("check", "complain about criterion files, line by line");
        check_.texts("FILE", files_, "criterion files", Need::required);
        new_ = app.command("new", "write a first criterion file of your own");
        new_.text("ID", id_, "letters, digits and hyphens, such as my-guide", Need::required);
        new_.text("--folder", folder_, "where to (default: criteria, which a survey beside it reads)");
        for (Options sub : {app, list_, show_}) sub.text("--survey", survey_, "also those beside this survey");
        return app;
    }

    int run(const Console& console) override
    {
        if (new_.parsed()) return write_new(console);
        const auto loaded = io::load_all_criteria(survey_);
        if (!loaded) {
            console.complain(loaded.error());
            return unusable;
        }
        if (check_.parsed()) return check(console);
        console.complain(loaded->library.problems);
        return show_.parsed() ? show(console, loaded->library) : list(console, *loaded);
    }

private:
    static std::string lower(std::string text)
    {
        for (char& c : text)
            if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
        return text;
    }

    // "any" setting fits every one that is asked for.
    bool is_asked_for(const Criterion& criterion) const
    {
        const std::string line = lower(fmt::format("{} {} {} {} {}", criterion.id, criterion.edition,
                                                   criterion.quantity, criterion.title, settings_of(criterion)));
        return std::ranges::all_of(words_, [&](const std::string& word) {
            return line.find(lower(word)) != std::string::npos || (criterion.settings.empty() && setting_named(word));
        });
    }

    int list(const Console& console, const io::LoadedCriteria& loaded) const
    {
        if (std::ranges::none_of(loaded.library.criteria,
                                 [&](const auto& entry) { return is_asked_for(entry.second); })) {
            console.print("none; `becalm criteria list` without words shows all\n");
            return unusable;
        }
        Table table({{"id", false},
                     {"edition", false},
                     {"setting", false},
                     {"quantity", false},
                     {"", false},
                     {"title", false}});
        for (const auto& [id, criterion] : loaded.library.criteria)
            if (is_asked_for(criterion))
                table.add({id, criterion.edition, settings_of(criterion), criterion.quantity,
                           criterion.check_first      ? "off"
                           : criterion.limits_missing ? "form"
                                                      : "",
                           criterion.title});
        console.print(table.text(""));
        console.print("off: switched off until a survey says confirmed-by; form: its values have to be typed "
                      "in\nlooked for in:\n");
        for (const std::string& folder : loaded.folders) console.print("  " + folder + "\n");
        return loaded.library.problems.empty() ? done : unusable;
    }

    int show(const Console& console, const io::CriteriaLibrary& library) const
    {
        const auto found = library.criteria.find(id_);
        if (found == library.criteria.end()) {
            std::vector<std::string> known;
            for (const auto& [id, criterion] : library.criteria) known.push_back(id);
            const std::string near = nearest_name(id_, known);
            console.complain({.kind = ProblemKind::usage,
                              .what = fmt::format("there is no criterion \"{}\"", id_),
                              .remedy = near.empty() ? "`becalm criteria list` shows all"
                                                     : fmt::format("did you mean \"{}\"?", near)});
            return bad_usage;
        }
        const Criterion& criterion = found->second;
        const evaluators::Quantity* quantity = evaluators::quantity_named(criterion.quantity);
        console.print(fmt::format(
            "{}\n  {}\n  edition      {}\n  clause       {}\n  numbers      {}\n  setting      {}\n", criterion.id,
            criterion.title, criterion.edition, criterion.clause, criterion.confirmed, settings_of(criterion)));
        console.print(fmt::format("  quantity     {}, {} ({})\n  axes         {}:", criterion.quantity,
                                  quantity->meaning, criterion.unit, name_of(criterion.rule)));
        for (const AxisTerm& term : criterion.terms)
            console.print(fmt::format(" {}{} {}{}", term.position ? std::string(name_of(*term.position)) + " " : "",
                                      name_of(term.axis), name_of(term.weighting),
                                      term.factor == 1.0 ? "" : fmt::format(" x {:.6g}", term.factor)));
        std::string needed, positions;
        for (const Axis axis : criterion.needed) needed += (needed.empty() ? "" : ", ") + std::string(name_of(axis));
        for (const Position position : criterion.positions)
            positions += (positions.empty() ? "" : ", ") + std::string(name_of(position));
        console.print(fmt::format("\n  needed       {}\n  positions    {}\n",
                                  !needed.empty()                    ? needed
                                  : criterion.rule == AxisRule::each ? "each that was measured"
                                                                     : "every term",
                                  positions.empty() ? "any" : positions));
        show_combination(console, criterion);
        for (const auto& [name, value] : criterion.parameters)
            console.print(fmt::format("  parameter    {} = {:.6g}\n", name, value));
        if (criterion.least_recordings > 1)
            console.print(fmt::format("  recordings   at least {}\n", criterion.least_recordings));
        if (criterion.check_first)
            console.print("  switched off until a survey's [[judge]] says confirmed-by: check the publication first\n");
        if (criterion.reference_h) console.print(fmt::format("  reference    {:.6g} h\n", *criterion.reference_h));
        if (criterion.least_duration_s > 0.0)
            console.print(fmt::format("  least time   {:.6g} s\n", criterion.least_duration_s));
        if (criterion.wished_duration_s > 0.0)
            console.print(fmt::format("  wished time  {:.6g} s\n", criterion.wished_duration_s));
        for (const Scale& scale : criterion.scales) {
            if (scale.decision) {
                const std::string_view at_most = criterion.decision->strict ? "below" : "up to";
                console.print(
                    fmt::format("  {}: met {} {:.6g}, not met {} {:.6g}{}\n", scale.use, at_most, scale.decision->lower,
                                criterion.decision->strict ? "from" : "above", scale.decision->upper,
                                scale.decision->average ? fmt::format(", between the two {} an average {} {:.6g}",
                                                                      "met with", at_most, *scale.decision->average)
                                                        : ", between the two not met"));
                continue;
            }
            console.print(fmt::format("  bands for {}\n", scale.use));
            Table table({{"value", false}, {"band", false}, {"", false}});
            for (const Band& band : scale.bands) table.add({limit_of(band), band.name, band.exceeds ? "exceeded" : ""});
            console.print(table.text("    "));
        }
        if (criterion.limits_missing)
            console.print("  a form: its limits are not in the program; type them in from your copy\n");
        else if (criterion.scales.empty())
            console.print("  the publication sets no limits; the value is reported\n");
        if (!criterion.note.empty()) console.print("  note         " + criterion.note + "\n");
        console.print("  file         " + criterion.path + "\n");
        return done;
    }

    // How values become one, where the criterion chooses more than the usual.
    static void show_combination(const Console& console, const Criterion& criterion)
    {
        if (!criterion.period.empty())
            console.print(fmt::format("  period       {}{}\n", criterion.period,
                                      criterion.hours.empty() ? "" : ", " + clock_text(criterion.hours)));
        if (criterion.rest)
            console.print(fmt::format("  rest         squares count {:.6g} times: {}; Sundays {}\n",
                                      criterion.rest->factor, clock_text(criterion.rest->hours),
                                      clock_text(criterion.rest->sunday_hours)));
        if (criterion.repeats != RepeatsRule::pooled)
            console.print(fmt::format("  repeats      {}\n", name_of(criterion.repeats)));
        if (criterion.conditions != PartsRule::each)
            console.print(fmt::format("  conditions   {}\n", name_of(criterion.conditions)));
        if (criterion.highest_position) console.print("  positions    the greatest governs\n");
        if (criterion.decision)
            console.print(fmt::format("  decision     by {} where {} leaves it open\n",
                                      criterion.decision->average_quantity, criterion.quantity));
        for (const auto& [axis, points] : criterion.curves) {
            std::string text;
            for (const CurvePoint& point : points)
                text += fmt::format("{}{:.6g} Hz {:.6g}", text.empty() ? "" : ", ", point.hz, point.value);
            console.print(fmt::format("  curve {}      {}\n", name_of(axis), text));
        }
    }

    int write_new(const Console& console) const
    {
        const auto is_plain = [](char c) {
            return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
        };
        if (id_.empty() || !std::ranges::all_of(id_, is_plain)) {
            console.complain({.kind = ProblemKind::usage,
                              .what = fmt::format("\"{}\" cannot be an id", id_),
                              .remedy = "use letters, digits, hyphens and underscores: the file is named after it"});
            return bad_usage;
        }
        const std::filesystem::path folder(folder_);
        std::error_code error;
        std::filesystem::create_directories(folder, error); // what went wrong shows when writing
        const std::string file = (folder / (id_ + ".toml")).string();
        const std::string sources = (folder / "sources.toml").string();
        if (const auto written = io::write_new_file_atomically(file, io::criterion_template(id_)); !written) {
            console.complain(written.error());
            return exit_code_of(written.error());
        }
        const bool has_sources = std::filesystem::exists(sources, error);
        if (!has_sources) {
            if (const auto written = io::write_new_file_atomically(sources, io::sources_template(id_)); !written) {
                console.complain(written.error());
                return exit_code_of(written.error());
            }
        }
        console.print(fmt::format("{}: an example to edit; then run\n  becalm criteria check {}\n", file, file));
        console.print(has_sources ? fmt::format("Add [{}] with title, edition and status to {}.\n", id_, sources)
                                  : fmt::format("{}: its publication\n", sources));
        return done;
    }

    int check(const Console& console) const
    {
        const std::filesystem::path data(io::data_folder());
        auto bibliography = io::read_sources((data / "sources.toml").string());
        if (!bibliography) {
            console.complain(bibliography.error());
            return unusable;
        }
        int code = done;
        for (const std::string& file : files_) {
            // A document of somebody's own may bring its own bibliography along.
            const std::filesystem::path own = std::filesystem::path(file).parent_path() / "sources.toml";
            io::Bibliography known = *bibliography;
            if (std::filesystem::exists(own)) {
                if (auto more = io::read_sources(own.string())) {
                    for (auto& [key, publication] : *more) known.insert_or_assign(key, publication);
                } else {
                    console.complain(more.error());
                    code = unusable;
                }
            }
            const auto criterion = io::read_criterion(file, known);
            if (criterion) {
                console.print(fmt::format("{}: {} is in order\n", file, criterion->id));
            } else {
                console.complain(criterion.error());
                code = unusable;
            }
        }
        return code;
    }

    Options list_, show_, check_, new_;
    std::string id_, survey_, folder_ = "criteria";
    std::vector<std::string> files_, words_;
};

} // namespace

std::unique_ptr<Command> make_criteria_command() { return std::make_unique<CriteriaCommand>(); }

} // namespace becalm::cli

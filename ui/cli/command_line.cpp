#include "ui/cli/command_line.h"

#include <cstdlib>
#include <exception>
#include <filesystem>
#include <ostream>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "src/base/nearest.h"
#include "ui/cli/command.h"
#include "ui/cli/outputs.h"

namespace becalm::cli {
namespace {

// The parser's complaint in our words, where its own would puzzle. `arguments` as typed.
Problem misunderstood(const CLI::ParseError& error, const std::vector<std::string>& arguments,
                      const std::vector<std::string>& commands)
{
    Problem problem{.kind = ProblemKind::usage,
                    .what = error.what(),
                    .remedy = "`becalm --help` and `becalm COMMAND --help` tell more"};
    const std::string name = problem.what.substr(0, problem.what.find(':')); // of the option, in the cases that use it
    if (arguments.empty() ||
        (error.get_name() == "RequiredError" && std::ranges::find_first_of(arguments, commands) == arguments.end() &&
         arguments.front().starts_with('-'))) {
        problem.what = "no command was given";
    } else if (!arguments.front().starts_with('-') &&
               std::ranges::find(commands, arguments.front()) == commands.end()) {
        problem.what = fmt::format("there is no command \"{}\"", arguments.front());
        const std::string near = nearest_name(arguments.front(), commands);
        problem.remedy = near.empty() ? "`becalm --help` lists them"
                                      : fmt::format("did you mean {}? `becalm --help` lists them all", near);
    } else if (error.get_name() == "ArgumentMismatch") {
        problem.what = name + (problem.what.find("At Most") != std::string::npos      ? " is given more than once"
                               : problem.what.find("2 required") != std::string::npos ? " needs two values"
                                                                                      : " needs a value");
    } else if (error.get_name() == "ConversionError") {
        problem.what = problem.what.substr(problem.what.find(": ") + 2) + " is no number";
    }
    return problem;
}

constexpr const char* file_to_write = "FILE"; // what the help calls it, and how an output is known again

std::optional<Problem> faulty_outputs_of(const CLI::App& command)
{
    std::vector<Output> outputs;
    std::vector<std::string> inputs;
    for (const CLI::Option* option : command.get_options()) {
        const bool is_output = option->get_type_name().ends_with(std::string(":") + file_to_write);
        for (const std::string& given : option->results())
            if (is_output)
                outputs.push_back({option->get_name(), given});
            else
                inputs.push_back(given);
    }
    return faulty_outputs(outputs, inputs);
}

CLI::Option* needed(CLI::Option* option, Need need) { return option->required(need == Need::required); }

} // namespace

Options Options::command(const std::string& name, const std::string& description)
{
    return Options(app_->add_subcommand(name, description));
}
void Options::commands_are_optional() { app_->require_subcommand(0, 1); }
bool Options::parsed() const { return app_->parsed(); }

void Options::text(const std::string& name, std::string& target, const std::string& description, Need need)
{
    needed(app_->add_option(name, target, description), need);
}

void Options::texts(const std::string& name, std::vector<std::string>& target, const std::string& description,
                    Need need)
{
    needed(app_->add_option(name, target, description), need);
}

void Options::two_texts(const std::string& name, std::vector<std::string>& target, const std::string& description)
{
    app_->add_option(name, target, description)->expected(2);
}

void Options::number(const std::string& name, double& target, const std::string& description, Need need)
{
    needed(app_->add_option(name, target, description), need);
}

void Options::number(const std::string& name, std::optional<double>& target, const std::string& description)
{
    app_->add_option(name, target, description);
}

void Options::numbers(const std::string& name, std::vector<double>& target, const std::string& description)
{
    app_->add_option(name, target, description)->delimiter(',');
}

void Options::flag(const std::string& name, bool& target, const std::string& description)
{
    app_->add_flag(name, target, description);
}

void Options::output(const std::string& name, std::string& target, const std::string& description)
{
    const auto not_empty = [](const std::string& value) {
        return value.empty() ? std::string("the name of the file is empty") : std::string();
    };
    app_->add_option(name, target, description)->check(CLI::Validator(not_empty, file_to_write));
}

void Options::jobs(int& target)
{
    app_->add_option("--jobs", target, "threads (default: all cores)")->check(CLI::Range(0, 4096));
}

std::vector<std::string> split(std::string_view text, char separator)
{
    std::vector<std::string> items;
    std::size_t begin = 0;
    while (true) {
        const std::size_t end = text.find(separator, begin);
        items.emplace_back(text.substr(begin, end - begin));
        if (end == std::string_view::npos) return items;
        begin = end + 1;
    }
}

int run(std::vector<std::string> arguments, const Console& console)
{
    try {
        CLI::App app(
            "becalm: from vibration recordings to a judgement of human comfort that another engineer can check.\n"
            "Comfort evaluation is no structural, machinery or health assessment; local codes, contracts and licensed\n"
            "practice prevail.",
            "becalm");
        app.set_version_flag("--version", "becalm " BECALM_VERSION);
        app.require_subcommand(1);

        std::vector<std::unique_ptr<Command>> commands;
        commands.push_back(make_demo_command());
        commands.push_back(make_new_command());
        commands.push_back(make_check_command());
        commands.push_back(make_assess_command());
        commands.push_back(make_merge_command());
        commands.push_back(make_explain_command());
        commands.push_back(make_compare_command());
        commands.push_back(make_trend_command());
        commands.push_back(make_exposure_command());
        commands.push_back(make_monitor_command());
        commands.push_back(make_tables_command());
        commands.push_back(make_report_command());
        commands.push_back(make_verify_command());
        commands.push_back(make_weigh_command());
        commands.push_back(make_stream_command());
        commands.push_back(make_ledger_command());
        commands.push_back(make_spectrum_command());
        commands.push_back(make_history_command());
        commands.push_back(make_relate_command());
        commands.push_back(make_align_command());
        commands.push_back(make_decay_command());
        commands.push_back(make_convert_command());
        commands.push_back(make_response_command());
        commands.push_back(make_criteria_command());
        commands.push_back(make_prove_command());
        std::vector<Options> declared;
        for (const auto& command : commands) declared.push_back(command->declare(Options(&app)));

        try {
            app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend())); // it takes them from the back
        } catch (const CLI::ParseError& error) {
            if (error.get_exit_code() == 0) { // --help, --version
                app.exit(error, console.out, console.err);
                return done;
            }
            std::vector<std::string> names;
            for (const CLI::App* command : app.get_subcommands({})) names.push_back(command->get_name());
            console.complain(misunderstood(error, arguments, names));
            return bad_usage;
        }
        for (const CLI::App* command : app.get_subcommands())
            if (const auto problem = faulty_outputs_of(*command)) return give_up(console, {*problem});
        for (std::size_t i = 0; i < commands.size(); ++i)
            if (declared[i].parsed()) return commands[i]->run(console);
        return bad_usage;
    } catch (const std::exception& fault) {
        console.err << "becalm: a fault in the program: " << fault.what() << "; please report it\n";
        return program_fault;
    }
}

} // namespace becalm::cli

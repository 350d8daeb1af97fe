// A command: says its options to the parser, then runs. One file a command.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "src/io/criteria_folders.h"
#include "src/model/survey.h"
#include "ui/cli/console.h"
#include "ui/cli/options.h"

namespace becalm::cli {

class Command {
public:
    virtual ~Command() = default;

    // Adds its subcommand to `parent` and returns it.
    virtual Options declare(Options parent) = 0;
    virtual int run(const Console& console) = 0;
};

std::unique_ptr<Command> make_weigh_command();
std::unique_ptr<Command> make_stream_command();
std::unique_ptr<Command> make_ledger_command();
std::unique_ptr<Command> make_spectrum_command();
std::unique_ptr<Command> make_history_command();
std::unique_ptr<Command> make_convert_command();
std::unique_ptr<Command> make_relate_command();
std::unique_ptr<Command> make_align_command();
std::unique_ptr<Command> make_decay_command();
std::unique_ptr<Command> make_response_command();
std::unique_ptr<Command> make_assess_command();
std::unique_ptr<Command> make_merge_command();
std::unique_ptr<Command> make_explain_command();
std::unique_ptr<Command> make_compare_command();
std::unique_ptr<Command> make_trend_command();
std::unique_ptr<Command> make_exposure_command();
std::unique_ptr<Command> make_monitor_command();
std::unique_ptr<Command> make_tables_command();
std::unique_ptr<Command> make_report_command();
std::unique_ptr<Command> make_verify_command();
std::unique_ptr<Command> make_check_command();
std::unique_ptr<Command> make_new_command();
std::unique_ptr<Command> make_criteria_command();
std::unique_ptr<Command> make_demo_command();
std::unique_ptr<Command> make_prove_command();

// "x,y" → {"x", "y"}; empty items are kept so that the caller can refuse them.
std::vector<std::string> split(std::string_view text, char separator);

} // namespace becalm::cli

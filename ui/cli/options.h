// What a command takes, told to the parser. The parsing library stays behind this header: it is large, and commands
// need little of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace becalm::cli {

enum class Need { optional, required };

// Options of one command or subcommand; a handle, cheap to copy. Names without dashes are positional. Targets are
// filled when the command line is parsed and must outlive it.
class Options {
public:
    explicit Options(CLI::App* app = nullptr) : app_(app) {}

    Options command(const std::string& name, const std::string& description); // a subcommand
    void commands_are_optional();                                             // else one must be given
    bool parsed() const;                                                      // this command was given

    void text(const std::string& name, std::string& target, const std::string& description, Need need = Need::optional);
    void texts(const std::string& name, std::vector<std::string>& target, const std::string& description,
               Need need = Need::optional);
    // Two values behind one name: --conditions before after.
    void two_texts(const std::string& name, std::vector<std::string>& target, const std::string& description);
    void number(const std::string& name, double& target, const std::string& description, Need need = Need::optional);
    void number(const std::string& name, std::optional<double>& target, const std::string& description);
    void numbers(const std::string& name, std::vector<double>& target,
                 const std::string& description); // separated by commas
    void flag(const std::string& name, bool& target, const std::string& description);

    // A file to write. An empty name is refused: it is a script's unset variable, and what was asked for would be lost.
    void output(const std::string& name, std::string& target, const std::string& description);

    // --jobs
    void jobs(int& target);

private:
    CLI::App* app_;
};

} // namespace becalm::cli

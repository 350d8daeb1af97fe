// The survey's sources with their speeds tried out: where their lines would lie, without touching the survey or its
// recordings. Frequencies come from evaluators/sources.h. Without Qt.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "evaluators/sources.h"
#include "src/model/explanation.h"
#include "src/model/survey.h"

namespace becalm::desktop {

class SourceTrial {
public:
    SourceTrial() = default;
    // Under `condition` (id; empty: none), whose speeds go before the sources' own.
    SourceTrial(const Survey& survey, std::string condition);

    const std::vector<Source>& sources() const { return tried_.sources; }
    const std::string& condition() const { return condition_; }

    // As tried, and as the survey has it; nothing where no speed is stated or there is no such source.
    std::optional<evaluators::SourceSpeed> speed(const std::string& source) const;
    std::optional<evaluators::SourceSpeed> stated(const std::string& source) const;

    // False, and nothing changes, where the source has no speed or `value` is not above 0. A speed of the condition
    // moves every source that rests on it.
    bool set_speed(const std::string& source, double value);
    // A line of the source is drawn from one frequency to another; the speed keeps four significant digits.
    bool draw(const std::string& source, double from_hz, double to_hz);
    void put_back();

    bool is_changed() const { return !changes().empty(); }

    // Lines of all sources as tried, up to `most_hz`.
    std::vector<NamedLine> lines(double most_hz) const;
    // Why a source has no lines; nothing where it has some.
    std::optional<Problem> missing(const std::string& source) const;

    // The survey's text with the speeds that are tried.
    Result<std::string> written(std::string text, const std::string& path) const;

private:
    struct Edit {
        std::string array = {};
        std::size_t index = 0;
        std::string key = {};
        double value = 0.0;
    };
    std::vector<Edit> changes() const;
    static const Source* source_of(const Survey& survey, const std::string& id);

    Survey stated_ = {}, tried_ = {}; // sources and conditions only
    std::string condition_;
};

} // namespace becalm::desktop

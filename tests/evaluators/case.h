// A survey made for one test, on disk, with its recordings; judged by the shipped criteria unless the test brings its
// own.
#pragma once

#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "evaluators/assess.h"
#include "src/io/survey_file.h"

#include "tests/evaluators/criteria.h"
#include "tests/evaluators/recordings.h"

namespace becalm::evaluators::tests {

// A survey on disk: recordings are added, then judged.
class Case {
public:
    explicit Case(std::string setting) : text_(fmt::format("title = \"a case\"\nsetting = \"{}\"\n", setting)) {}

    Case& space(const std::string& id, const std::string& use)
    {
        text_ += fmt::format("[[space]]\nid = \"{}\"\nuse = \"{}\"\n", id, use);
        return *this;
    }
    Case& table(const std::string& text)
    {
        text_ += text + "\n";
        return *this;
    }
    Case& recording(const std::string& file, const std::string& space, const std::string& channels,
                    const std::vector<Signal>& signals, const std::string& more = "", int rate_hz = 1000)
    {
        wav(folder_, file, rate_hz, signals);
        text_ += fmt::format("[[recording]]\nfile = \"{}\"\nspace = \"{}\"\nchannels = {{ {} }}\n{}\n", file, space,
                             channels, more);
        return *this;
    }
    Case& judge(const std::string& criteria) { return table(fmt::format("[[judge]]\ncriteria = [{}]", criteria)); }

    Results<Assessment> outcome(const AssessOptions& options = {},
                                const io::CriteriaLibrary& library = shipped_library())
    {
        const auto survey = io::read_survey(folder_.file("survey.toml", text_));
        if (!survey) return tl::unexpected(survey.error());
        return assess(*survey, library, options);
    }
    Assessment assessment(const AssessOptions& options = {}, const io::CriteriaLibrary& library = shipped_library())
    {
        auto result = outcome(options, library);
        if (result) return std::move(*result);
        for (const Problem& problem : result.error()) ADD_FAILURE() << to_text(problem);
        return {};
    }
    Verdict verdict(const AssessOptions& options = {}, const io::CriteriaLibrary& library = shipped_library())
    {
        Assessment result = assessment(options, library);
        EXPECT_EQ(result.verdicts.size(), 1U);
        return result.verdicts.empty() ? Verdict{} : result.verdicts[0];
    }
    // The survey on disk.
    std::string written() { return folder_.file("survey.toml", text_); }
    std::string path(const std::string& name) const { return folder_.path(name); }

private:
    ScratchFolder folder_;
    std::string text_;
};

} // namespace becalm::evaluators::tests

// Where the commands that judge a survey keep what they worked out (src/store/cache.h), and --no-cache.
#pragma once

#include <functional>
#include <string>

#include "src/base/problem.h"
#include "ui/cli/console.h"
#include "ui/cli/options.h"

namespace becalm::cli {

class CacheOption {
public:
    void declare(Options app);

    // `.becalm` beside the survey; empty with --no-cache.
    std::string folder_for(const std::string& survey) const;

    // Says that it takes longer; the judgement is the same.
    static std::function<void(const Problem&)> told_on(const Console& console);

private:
    bool none_ = false;
};

} // namespace becalm::cli

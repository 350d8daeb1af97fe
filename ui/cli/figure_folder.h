// Figures written as SVG into a folder, each under a name of its own.
#pragma once

#include <string>
#include <vector>

#include "src/base/problem.h"
#include "ui/figures/figure.h"

namespace becalm::cli {

class FigureFolder {
public:
    // The folder is made where it is not there; what goes wrong shows when the first figure is kept.
    explicit FigureFolder(std::string folder);

    // `name` may hold anything; what no file can be called everywhere becomes "-". Two names that become one get a
    // number.
    Result<void> keep(const std::string& name, const figures::Figure& figure);

    const std::vector<std::string>& names() const { return names_; } // of the files

private:
    std::string folder_;
    std::vector<std::string> names_;
};

} // namespace becalm::cli

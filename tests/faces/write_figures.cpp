// write_figures FOLDER: every example figure in three sizes as SVG, to look at and for check_figures.py.
#include <cstdio>
#include <fstream>
#include <string>

#include "ui/figures/svg.h"

#include "tests/faces/figure_examples.h"

int main(int count, char** arguments)
{
    if (count != 2) {
        std::fputs("usage: write_figures FOLDER\n", stderr);
        return 2;
    }
    for (const auto& [width, height] : {std::pair{480.0, 320.0}, std::pair{800.0, 500.0}, std::pair{1600.0, 900.0}})
        for (const auto& [name, figure] : becalm::tests::example_figures(width, height)) {
            std::ofstream file(std::string(arguments[1]) + "/" + name + "-" + std::to_string(static_cast<int>(width)) +
                                   ".svg",
                               std::ios::binary);
            file << becalm::figures::svg_of(figure);
            if (!file) return 1;
        }
    return 0;
}

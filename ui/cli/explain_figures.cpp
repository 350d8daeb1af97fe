#include "ui/cli/explain_figures.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include <fmt/format.h>

#include "src/io/atomic_file.h"
#include "ui/figures/explanation_figures.h"
#include "ui/figures/svg.h"

namespace becalm::cli {
namespace {

// What a file may be called everywhere.
std::string plain(const std::string& text)
{
    std::string name;
    for (const char c : text) {
        const bool keeps =
            (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' || c == '_';
        if (keeps)
            name += c;
        else if (!name.empty() && name.back() != '-')
            name += '-';
    }
    while (!name.empty() && name.back() == '-') name.pop_back();
    return name;
}

class FigureWriter {
public:
    explicit FigureWriter(std::string folder) : folder_(std::move(folder)) {}

    Result<std::vector<std::string>> write(const ExplanationReport& report)
    {
        std::error_code error;
        std::filesystem::create_directories(folder_, error); // what went wrong shows when writing
        for (const Explanation& explanation : report.explanations)
            if (explanation.why_not.empty())
                if (auto written = write(explanation); !written) return tl::unexpected(written.error());
        return std::move(names_);
    }

private:
    Result<void> write(const Explanation& explanation)
    {
        const Verdict& verdict = explanation.verdict;
        const std::string who = verdict.person.empty() ? verdict.space : verdict.person;
        const std::string stem =
            plain(fmt::format("{}-{}-{}-{}", who, verdict.position, verdict.condition, verdict.criterion));
        for (const ExplainedSpectrum& spectrum : explanation.spectra) {
            if (auto written = keep(stem + "-spectrum-" + spectrum.axis,
                                    figures::spectrum_figure(figures::weighted_spectrum(explanation, spectrum)));
                !written)
                return written;
            if (auto written = keep(stem + "-bands-" + spectrum.axis,
                                    figures::third_octave_figure(figures::weighted_bands(explanation, spectrum)));
                !written)
                return written;
            if (spectrum.rows.size() < 2) continue;
            if (auto written = keep(stem + "-spectrogram-" + spectrum.axis,
                                    figures::spectrogram_figure(figures::weighted_spectrogram(explanation, spectrum)));
                !written)
                return written;
        }
        return keep(stem + "-ladder", figures::ladder_figure(figures::what_carries(explanation)));
    }

    Result<void> keep(const std::string& name, const figures::Figure& figure)
    {
        std::string file = name + ".svg";
        // Two places whose names differ in signs alone still get a file each.
        for (int k = 2; std::ranges::find(names_, file) != names_.end(); ++k) file = fmt::format("{}-{}.svg", name, k);
        const auto written =
            io::write_file_atomically((std::filesystem::path(folder_) / file).string(), figures::svg_of(figure));
        if (!written) return written;
        names_.push_back(file);
        return {};
    }

    std::string folder_;
    std::vector<std::string> names_;
};

} // namespace

Result<std::vector<std::string>> write_figures(const ExplanationReport& report, const std::string& folder)
{
    return FigureWriter(folder).write(report);
}

} // namespace becalm::cli

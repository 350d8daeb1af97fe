#include "ui/cli/verdict_text.h"

#include <fmt/format.h>

#include "ui/cli/console.h"

namespace becalm::cli {

std::string value_text(const Verdict& verdict)
{
    if (!verdict.value) return "-";
    std::string text = number(verdict.value);
    if (verdict.expanded_uncertainty) text += fmt::format(" ± {:.2g}", *verdict.expanded_uncertainty);
    return text + " " + verdict.unit;
}

std::string band_text(const Verdict& verdict)
{
    if (!verdict.band_index) return "no limits set";
    std::string text = verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name;
    for (const std::string& also : verdict.also_bands) text += " (or " + also + ")";
    return text;
}

} // namespace becalm::cli

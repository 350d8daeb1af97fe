#include "ui/figures/language.h"

#include <algorithm>

namespace becalm::figures {

std::string_view code_of(Language language)
{
    static constexpr std::array<std::string_view, 3> codes{"en", "de", "fr"};
    return codes[static_cast<std::size_t>(language)];
}

std::optional<Language> language_named(std::string_view code)
{
    const auto* found = std::ranges::find(all_languages, code, code_of);
    return found == all_languages.end() ? std::nullopt : std::optional(*found);
}

std::string filled(std::string_view format, std::string_view a, std::string_view b, std::string_view c,
                   std::string_view d)
{
    const std::array given{a, b, c, d};
    std::string text;
    std::size_t next = 0;
    while (true) {
        const std::size_t at = format.find("{}");
        text += format.substr(0, at);
        if (at == std::string_view::npos) return text;
        if (next < given.size()) text += given[next++];
        format.remove_prefix(at + 2);
    }
}

std::string in_digits_of(Language language, std::string numbers)
{
    if (language != Language::english)
        std::ranges::replace(numbers, '.', ','); // ISO 80000-1 allows both signs (from memory)
    return numbers;
}

} // namespace becalm::figures

// The languages in which figures and reports speak, and the words of one: tables of phrases that cannot lack one.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace becalm::figures {

enum class Language { english, german, french };

inline constexpr std::array<Language, 3> all_languages{Language::english, Language::german, Language::french};

std::string_view code_of(Language language); // "en", "de", "fr": ISO 639-1
std::optional<Language> language_named(std::string_view code);

// Words that are there: a table with a phrase left out, or an empty one, does not compile. Tables are structures of
// nothing else, so that tests can walk through them.
class Phrase {
public:
    consteval Phrase(const char* text) : text_(text) // NOLINT(google-explicit-constructor): tables read as text
    {
        if (text_.empty()) throw "a phrase without words";
    }
    constexpr operator std::string_view() const { return text_; } // NOLINT(google-explicit-constructor)
    std::string text() const { return std::string(text_); }

private:
    std::string_view text_;
};

// `format` with its {} filled in, in their order.
std::string filled(std::string_view format, std::string_view a = "", std::string_view b = "", std::string_view c = "",
                   std::string_view d = "");

// A number, or a text of numbers and units, with the decimal sign of the language: "12.5 Hz" -> "12,5 Hz".
std::string in_digits_of(Language language, std::string numbers);

} // namespace becalm::figures

// Pieces of TOML source: strings, keys and numbers written so that reading them gives the same value back.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace becalm::io {

// A basic string with its quotes. Bytes that are not UTF-8 become U+FFFD, since a TOML file cannot hold them.
std::string toml_string(std::string_view text);

// The key as it is where it may stand bare, else quoted.
std::string toml_key(std::string_view key);

// The shortest decimal that reads back as the same double; always with a point or an exponent. `value` is finite.
std::string toml_number(double value);

// On one line: ["a", "b"], [0.31, 0.62].
std::string toml_list(std::span<const std::string> values);
std::string toml_list(std::span<const double> values);

} // namespace becalm::io

// Words for what the judgement calls by a name or a code: quantities, findings, parts of an uncertainty, inputs. A name
// that has no words here stays as it is; tests look that none does.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "ui/report/wording.h"

namespace becalm::report {

// What a quantity (evaluators/quantity.h) is called, and its definition where it is short.
std::string quantity_words(std::string_view name, Language language);

// A finding's code as a short title; its message, in English, says the rest.
std::string finding_title(std::string_view code, Language language);

// A note of the judgement in the words of the language, where it is one of those that many reports have; nothing where
// it can only be quoted.
std::optional<std::string> sentence_words(std::string_view english, Language language);

// "calibration", "statistics": a part of an uncertainty.
std::string uncertainty_part_words(std::string_view name, Language language);

// "recording", "criterion": a kind of Input.
std::string input_kind_words(std::string_view kind, Language language);

} // namespace becalm::report

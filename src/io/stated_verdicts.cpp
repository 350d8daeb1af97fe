#include "src/io/stated_verdicts.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "src/io/atomic_file.h"
#include "src/io/file_hash.h"
#include "src/io/json_in.h"

namespace becalm::io {
namespace {

using Json = nlohmann::json;

// ---- JSON of an assessment

// null and absent: empty.
std::string text_in(const Json& json, const char* key)
{
    const auto found = json.find(key);
    return found == json.end() || found->is_null() ? std::string() : found->get<std::string>();
}

std::optional<double> number_in(const Json& json, const char* key)
{
    const auto found = json.find(key);
    return found == json.end() || found->is_null() ? std::optional<double>() : found->get<double>();
}

Verdict verdict_in(const Json& json)
{
    Verdict verdict{.space = text_in(json, "space"),
                    .position = text_in(json, "position"),
                    .condition = text_in(json, "condition"),
                    .person = text_in(json, "person"),
                    .criterion = json.at("criterion").get<std::string>(),
                    .edition = text_in(json, "edition"),
                    .clause = text_in(json, "clause"),
                    .use = text_in(json, "use"),
                    .quantity = text_in(json, "quantity"),
                    .axis = text_in(json, "axis"),
                    .weighting = text_in(json, "weighting"),
                    .value = number_in(json, "value"),
                    .unit = text_in(json, "unit"),
                    .expanded_uncertainty = number_in(json, "expanded_uncertainty"),
                    .judged = json.at("judged").get<bool>(),
                    .why_not = text_in(json, "why_not"),
                    .exceeded = json.at("exceeded").get<bool>()};
    for (const Json& entry : json.at("bands"))
        verdict.bands.push_back({.name = entry.at("name").get<std::string>(),
                                 .from = number_in(entry, "from"),
                                 .limit = number_in(entry, "below"),
                                 .inclusive = entry.value("inclusive", false),
                                 .exceeds = entry.value("exceeds", false)});
    for (std::size_t i = 0; i < verdict.bands.size(); ++i) {
        const Band& band = verdict.bands[i];
        const bool is_last = i + 1 == verdict.bands.size();
        if (band.limit.has_value() == is_last || (band.from && i > 0 && *band.from > *verdict.bands[i - 1].limit))
            throw std::out_of_range("the bands do not follow each other");
    }
    if (const Json& index = json.at("band_index"); !index.is_null()) {
        verdict.band_index = int_in(index);
        if (*verdict.band_index < 0 || *verdict.band_index >= std::ssize(verdict.bands))
            throw std::out_of_range("band_index points to no band");
    }
    if (verdict.judged && !verdict.value) throw std::out_of_range("a verdict is judged and has no value");
    for (const Json& entry : json.at("terms"))
        verdict.terms.push_back({.axis = entry.at("axis").get<std::string>(),
                                 .position = text_in(entry, "position"),
                                 .weighting = text_in(entry, "weighting"),
                                 .factor = entry.at("factor").get<double>(),
                                 .value = number_in(entry, "value")});
    return verdict;
}

Result<StatedVerdicts> from_json(const std::string& text, const std::string& path)
{
    const auto refused = [&](const std::string& what) {
        return fail({.file = path, .what = what, .remedy = "write it with `becalm assess SURVEY --json FILE`"});
    };
    try {
        const Json json = Json::parse(text);
        const std::string schema = text_in(json, "schema");
        if (schema != "becalm.assessment/1")
            return refused(schema.empty() ? "the JSON names no schema"
                                          : fmt::format("the JSON follows {}, not becalm.assessment/1", schema));
        StatedVerdicts stated;
        const Json& survey = json.at("survey");
        stated.assessment.title = text_in(survey, "title");
        stated.assessment.setting = text_in(survey, "setting");
        stated.assessment.file = path;
        stated.assessment.sha256 = sha256_of_text(text);
        for (const Json& entry : json.at("verdicts")) stated.assessment.verdicts.push_back(verdict_in(entry));
        return stated;
    } catch (const std::exception& fault) { // of the parser and its accessors; they are not let out of here
        return refused(fmt::format("this is no assessment in JSON: {}", fault.what()));
    }
}

// ---- a table

struct Row {
    int line = 1;
    std::vector<std::string> fields = {};
};

// Empty where a quotation mark is not closed.
Result<std::vector<Row>> rows_in(std::string_view text, const std::string& path)
{
    std::vector<Row> rows;
    Row row;
    std::string field;
    bool quoted = false, blank = true;
    int line = 1, opened = 0;
    const auto end_row = [&] {
        row.fields.push_back(std::exchange(field, {}));
        if (!blank) rows.push_back(std::move(row));
        row = {.line = line};
        blank = true;
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == '\n') ++line;
        if (quoted) {
            if (c != '"')
                field += c;
            else if (i + 1 < text.size() && text[i + 1] == '"')
                field += text[++i];
            else
                quoted = false;
        } else if (c == '"') {
            quoted = true;
            blank = false;
            opened = line;
        } else if (c == ',') {
            row.fields.push_back(std::exchange(field, {}));
            blank = false;
        } else if (c == '\n') {
            end_row();
        } else if (c != '\r') {
            field += c;
            blank = false;
        }
    }
    if (quoted)
        return fail({.file = path, .line = opened, .what = "a quotation mark is not closed", .remedy = "close it"});
    end_row();
    return rows;
}

std::optional<double> as_number(const std::string& text)
{
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return {};
    return value;
}

Result<StatedVerdicts> from_table(std::string text, const std::string& path)
{
    if (text.starts_with("\xef\xbb\xbf")) text.erase(0, 3);
    const auto rows = rows_in(text, path);
    if (!rows) return tl::unexpected(rows.error());
    const std::vector<std::string> header = rows->empty() ? std::vector<std::string>() : rows->front().fields;
    for (const char* needed : {"space", "criterion", "value"})
        if (std::ranges::find(header, needed) == header.end())
            return fail({.file = path,
                         .line = 1,
                         .what = fmt::format("the table has no column \"{}\"", needed),
                         .remedy = "give it a header row with space, criterion and value, separated by commas"});
    StatedVerdicts stated{.is_table = true};
    stated.assessment.file = path;
    stated.assessment.sha256 = sha256_of_text(text);
    for (std::size_t i = 1; i < rows->size(); ++i) {
        const Row& row = (*rows)[i];
        const auto refused = [&](const std::string& what, const std::string& remedy) {
            return fail({.file = path, .line = row.line, .what = what, .remedy = remedy});
        };
        if (row.fields.size() != header.size())
            return refused(fmt::format("{} fields stand below a header of {}", row.fields.size(), header.size()),
                           "quote fields that hold a comma");
        const auto field = [&](std::string_view column) {
            const auto found = std::ranges::find(header, column);
            return found == header.end() ? std::string() : row.fields[static_cast<std::size_t>(found - header.begin())];
        };
        if (field("judged") == "false" || (field("space").empty() && !field("person").empty())) continue;
        if (field("space").empty() || field("criterion").empty())
            return refused("the row names no space or no criterion", "name both");
        const auto value = as_number(field("value"));
        if (!value || *value < 0.0)
            return refused(fmt::format("the value \"{}\" is no number from 0 on", field("value")),
                           "write it with a point as decimal sign");
        std::optional<double> uncertainty;
        if (const std::string words = field("expanded_uncertainty"); !words.empty()) {
            uncertainty = as_number(words);
            if (!uncertainty || *uncertainty < 0.0)
                return refused(fmt::format("the uncertainty \"{}\" is no number from 0 on", words),
                               "write it with a point as decimal sign, or leave it empty");
        }
        stated.assessment.verdicts.push_back({.space = field("space"),
                                              .position = field("position"),
                                              .condition = field("condition"),
                                              .criterion = field("criterion"),
                                              .edition = field("edition"),
                                              .use = field("use"),
                                              .quantity = field("quantity"),
                                              .axis = field("axis"),
                                              .weighting = field("weighting"),
                                              .value = value,
                                              .unit = field("unit"),
                                              .expanded_uncertainty = uncertainty,
                                              .judged = true});
    }
    return stated;
}

} // namespace

Result<StatedVerdicts> read_stated_verdicts(const std::string& path)
{
    auto text = read_text_file(path);
    if (!text) return tl::unexpected(text.error());
    const std::size_t first = text->find_first_not_of(" \t\r\n");
    const bool is_json = first != std::string::npos && (*text)[first] == '{';
    return is_json ? from_json(*text, path) : from_table(std::move(*text), path);
}

} // namespace becalm::io

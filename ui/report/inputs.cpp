#include "ui/report/inputs.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <map>
#include <optional>
#include <set>

#include <fmt/format.h>

#include "src/io/file_hash.h"
#include "src/io/json_out.h"
#include "ui/figures/svg.h"
#include "ui/figures/text.h"
#include "ui/report/html.h"
#include "ui/report/pdf_attachment.h"
#include "ui/report/pdf_pages.h"

namespace becalm::report {
namespace {

void replace_all(std::string& text, const std::string& what, const std::string& by)
{
    if (what.empty()) return;
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + by.size()))
        text.replace(at, what.size(), by);
}

std::string file_name(const std::string& path) { return std::filesystem::path(path).filename().string(); }

// What the file can carry is what is compared: names may hold bytes that are no text.
Input input(std::string kind, std::string_view name, std::string_view value, std::string_view detail = "")
{
    return {std::move(kind), figures::cleaned(name), figures::cleaned(value), figures::cleaned(detail)};
}

std::string line_of(const Input& one)
{
    return one.kind + "\t" + one.name + "\t" + one.value + "\t" + one.detail + "\n";
}

std::string seal_of(const std::vector<Input>& inputs, const std::string& text_sha256)
{
    std::vector<std::string> lines;
    for (const Input& one : inputs) lines.push_back(line_of(one));
    std::ranges::sort(lines); // a report tells values and files in chapters of their own
    return io::sha256_of_text(fmt::format("{}{}\n", fmt::join(lines, ""), text_sha256));
}

std::string footer_of(const std::vector<Input>& inputs, const std::string& open)
{
    const std::string text = io::sha256_of_text(open);
    const std::string seal = seal_of(inputs, text);
    return closed_html("", {{"text-sha256", text}, {"seal", seal}}, "SHA-256 " + seal);
}

// XML text back to what it was; nothing where it holds what xml_text() never writes.
std::optional<std::string> plain(std::string_view escaped)
{
    static constexpr std::pair<std::string_view, char> entities[]{
        {"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}, {"&#39;", '\''}};
    std::string text;
    while (!escaped.empty()) {
        if (escaped.front() != '&') {
            if (escaped.front() == '<' || escaped.front() == '>') return {};
            text += escaped.front();
            escaped.remove_prefix(1);
            continue;
        }
        const auto* entity =
            std::ranges::find_if(entities, [&](const auto& e) { return escaped.starts_with(e.first); });
        if (entity == std::end(entities)) return {};
        text += entity->second;
        escaped.remove_prefix(entity->first.size());
    }
    return text;
}

// `html` begins with ` name="value"`: takes it.
std::optional<std::string> take_fact(std::string_view& html, std::string_view name)
{
    const std::string begin = fmt::format(" data-{}=\"", name);
    if (!html.starts_with(begin)) return {};
    html.remove_prefix(begin.size());
    const std::size_t end = html.find('"');
    if (end == std::string_view::npos) return {};
    auto value = plain(html.substr(0, end));
    html.remove_prefix(end + 1);
    return value;
}

constexpr std::string_view attached_name = "becalm-inputs.txt";
constexpr std::string_view attached_head = "becalm report 1\n";

// What is attached to a PDF.
std::string attached_text(const std::vector<Input>& inputs, const std::string& pages_sha256)
{
    std::string text(attached_head);
    for (const Input& one : inputs) text += line_of(one);
    return text + line_of({"pages", "sha256", pages_sha256, ""}) +
           line_of({"seal", "sha256", seal_of(inputs, pages_sha256), ""});
}

struct Attached {
    std::vector<Input> inputs = {};
    std::string pages_sha256 = {}, seal = {};
};

std::optional<Attached> read_attached(std::string_view text)
{
    if (!text.starts_with(attached_head) || !text.ends_with('\n')) return {};
    text.remove_prefix(attached_head.size());
    Attached result;
    while (!text.empty()) {
        std::string_view line = text.substr(0, text.find('\n'));
        text.remove_prefix(line.size() + 1);
        std::array<std::string, 4> fields;
        for (std::size_t i = 0; i < fields.size(); ++i) {
            const std::size_t end = line.find('\t');
            if ((end == std::string_view::npos) != (i + 1 == fields.size())) return {};
            fields[i] = line.substr(0, end);
            line.remove_prefix(std::min(line.size(), fields[i].size() + 1));
        }
        if (fields[0] == "pages")
            result.pages_sha256 = fields[2];
        else if (fields[0] == "seal")
            result.seal = fields[2];
        else
            result.inputs.push_back({fields[0], fields[1], fields[2], fields[3]});
    }
    return result;
}

bool names_one_of_each(const std::vector<Input>& inputs)
{
    return std::ranges::all_of(
        std::array<std::string_view, 3>{"version", "survey", "assessment"},
        [&](std::string_view kind) { return std::ranges::count(inputs, kind, &Input::kind) == 1; });
}

std::optional<std::string> pdf_with(const std::string& pages, const std::string& text)
{
    return with_attachment(pages, {.name = std::string(attached_name),
                                   .description = "What this report rests on, for becalm verify",
                                   .content = text});
}

Result<ReadBack> read_back_pdf(const std::string& pdf, const std::string& path)
{
    const auto no_report = [&](std::string what) {
        return fail({.file = path,
                     .what = std::move(what),
                     .remedy = "give the PDF file that `becalm report` wrote, unchanged"});
    };
    if (const auto parts = detached(pdf)) {
        const auto attached = read_attached(parts->content);
        if (!attached || !names_one_of_each(attached->inputs))
            return no_report("the list of inputs that is attached to it cannot be read");
        const std::string pages(parts->pdf);
        const bool kept = pdf_with(pages, attached_text(attached->inputs, io::sha256_of_text(pages))) == pdf;
        return ReadBack{attached->inputs, kept ? SealedText::as_sealed : SealedText::changed};
    }
    const auto attached = read_attached(attached_to(pdf, std::string(attached_name)));
    if (!attached || !names_one_of_each(attached->inputs))
        return no_report("this is no report of this program, or what was attached to it is lost");
    const bool kept = attached->seal == seal_of(attached->inputs, attached->pages_sha256);
    return ReadBack{attached->inputs, kept ? SealedText::unknown : SealedText::changed};
}

std::optional<double> number_in(std::string_view text)
{
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size()) return {};
    return value;
}

bool differ_by_rounding(const std::string& told, const std::string& now)
{
    constexpr double rounding = 1e-9; // not a limit: of the sums of two instruction sets
    const auto a = number_in(told), b = number_in(now);
    return a && b && std::abs(*a - *b) <= rounding * std::max(std::abs(*a), std::abs(*b));
}

std::string what_is(const Input& input)
{
    if (input.kind == "verdict") return "the value of " + input.name;
    if (input.kind == "recording") return "the recording " + input.name;
    if (input.kind == "criterion") return "the criterion " + input.name;
    return input.kind == "survey" ? "the text of the survey " + input.name : "the " + input.kind;
}

} // namespace

Assessment portable(Assessment assessment, const io::CriteriaLibrary& library)
{
    std::set<std::string> used;
    for (const Verdict& verdict : assessment.verdicts) used.insert(verdict.criterion);
    const auto named = [&](std::string& text) {
        for (const std::string& id : used)
            if (const auto criterion = library.criteria.find(id); criterion != library.criteria.end())
                replace_all(text, criterion->second.path, file_name(criterion->second.path));
    };
    assessment.file = file_name(assessment.file);
    for (Verdict& verdict : assessment.verdicts)
        for (std::string& note : verdict.notes) named(note);
    for (ProvenanceStep& step : assessment.provenance) named(step.step);
    return assessment;
}

std::string key_of(const Verdict& verdict)
{
    std::string key;
    for (const std::string* part :
         {&verdict.person, &verdict.space, &verdict.position, &verdict.condition, &verdict.criterion, &verdict.axis})
        if (!part->empty()) key += (key.empty() ? "" : " / ") + *part;
    return key;
}

AsRead as_read(const Assessment& assessment, const std::string& file)
{
    static constexpr std::string_view begin = "read: ", hash = "; sha256 ";
    for (const ProvenanceStep& step : assessment.provenance) {
        if (step.of != file || !step.step.starts_with(begin)) continue;
        const std::size_t at = step.step.rfind(hash);
        BECALM_ASSERT(at != std::string::npos);
        return {step.step.substr(begin.size(), at - begin.size()), step.step.substr(at + hash.size())};
    }
    return {};
}

std::vector<Input> inputs_of(const Survey& survey, const Assessment& assessment, const io::CriteriaLibrary& library,
                             const std::string& survey_file, const std::vector<std::string>& asked,
                             const std::string& version)
{
    std::vector<Input> inputs{input("version", "becalm", version), input("survey", survey_file, survey.sha256)};
    for (const std::string& id : asked) inputs.push_back(input("asked", id, "in place of the survey's own"));
    std::set<std::string> seen;
    for (const Recording& recording : survey.recordings)
        if (seen.insert(recording.file).second) {
            const std::string sha256 = as_read(assessment, recording.file).sha256;
            inputs.push_back(input("recording", recording.file, sha256.empty() ? "not read" : sha256));
        }
    seen.clear();
    for (const Verdict& verdict : assessment.verdicts)
        if (seen.insert(verdict.criterion).second)
            if (const auto criterion = library.criteria.find(verdict.criterion); criterion != library.criteria.end())
                inputs.push_back(input("criterion", verdict.criterion, criterion->second.sha256));
    for (const Verdict& verdict : assessment.verdicts) {
        std::string detail = verdict.unit;
        if (verdict.expanded_uncertainty) detail += fmt::format(" +- {:.9g}", *verdict.expanded_uncertainty);
        if (verdict.band_index) detail += "; " + verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name;
        inputs.push_back(input("verdict", key_of(verdict),
                               verdict.judged && verdict.value ? fmt::format("{}", *verdict.value) : "not judged",
                               detail));
    }
    inputs.push_back(input("assessment", "becalm.assessment/1", io::sha256_of_text(io::as_json(assessment))));
    return inputs;
}

Facts facts_of(const Input& input)
{
    return {{"input", input.kind}, {"name", input.name}, {"value", input.value}, {"detail", input.detail}};
}

std::string seal_of(const std::string& open, const std::vector<Input>& inputs)
{
    return seal_of(inputs, io::sha256_of_text(open));
}

std::string sealed(const std::string& open, const std::vector<Input>& inputs) { return open + footer_of(inputs, open); }

Result<std::string> sealed_pdf(const std::string& pages, const std::vector<Input>& inputs)
{
    if (auto pdf = pdf_with(pages, attached_text(inputs, io::sha256_of_text(pages)))) return *std::move(pdf);
    return fail({.kind = ProblemKind::outside_world,
                 .what = "the PDF cannot take its seal: the library that made it builds files in another way",
                 .remedy = "write the report as HTML and print that"});
}

Result<ReadBack> read_back(const std::string& report, const std::string& path)
{
    if (report.starts_with("%PDF-")) return read_back_pdf(report, path);
    const std::string_view html = report;
    const auto no_report = [&](std::string what) {
        return fail({.file = path,
                     .what = std::move(what),
                     .remedy = "give the HTML or PDF file that `becalm report` wrote, unchanged"});
    };
    ReadBack result;
    const std::size_t footer = html.rfind(footer_begin());
    if (!html.starts_with("<!DOCTYPE html>\n") || footer == std::string_view::npos)
        return no_report("this is no report of this program");
    static constexpr std::string_view row = "<tr data-input=";
    for (std::size_t at = html.find(row); at < footer; at = html.find(row, at + row.size())) {
        std::string_view rest = html.substr(at + 3, footer - at - 3);
        const auto kind = take_fact(rest, "input");
        const auto name = take_fact(rest, "name");
        const auto value = take_fact(rest, "value");
        const auto detail = take_fact(rest, "detail");
        if (!kind || !name || !value || !detail || !rest.starts_with(">"))
            return no_report(fmt::format("the list of inputs cannot be read at byte {}", at));
        result.inputs.push_back({*kind, *name, *value, *detail});
    }
    if (!names_one_of_each(result.inputs))
        return no_report("the report does not name one version, one survey and one judgement");
    if (html.substr(footer) != footer_of(result.inputs, std::string(html.substr(0, footer))))
        result.text = SealedText::changed;
    return result;
}

Comparison compared(const std::vector<Input>& told, const std::vector<Input>& now)
{
    Comparison result;
    // The same name may stand more than once (places of one criterion without an axis): counted in their order.
    using Key = std::tuple<std::string, std::string, int>;
    const auto keyed = [](const std::vector<Input>& inputs) {
        std::map<std::pair<std::string, std::string>, int> counts;
        std::vector<std::pair<Key, const Input*>> list;
        for (const Input& one : inputs) {
            if (one.kind == "assessment") continue;
            // The survey is asked for by its place; its name is the caller's.
            const std::string name = one.kind == "survey" ? "" : one.name;
            list.push_back({{one.kind, name, counts[{one.kind, name}]++}, &one});
        }
        return list;
    };
    const auto now_list = keyed(now);
    std::map<Key, const Input*> left(now_list.begin(), now_list.end());
    bool rounded = false;
    for (const auto& [key, before] : keyed(told)) {
        const auto found = left.find(key);
        if (found == left.end()) {
            result.differences.push_back(what_is(*before) + " is in the report (" + before->value +
                                         ") and no longer in the survey");
            continue;
        }
        const Input& after = *found->second;
        left.erase(found);
        if (before->kind == "version") {
            if (before->value != after.value)
                result.remarks.push_back(
                    fmt::format("the report is of version {}, this is {}", before->value, after.value));
            continue;
        }
        if (before->value != after.value) {
            if (before->kind == "verdict" && differ_by_rounding(before->value, after.value)) {
                rounded = true;
                result.remarks.push_back(fmt::format("{} differs by rounding: {} in the report, {} now",
                                                     what_is(*before), before->value, after.value));
            } else {
                result.differences.push_back(
                    fmt::format("{} differs: {} in the report, {} now", what_is(*before), before->value, after.value));
            }
        }
        if (before->detail != after.detail)
            result.differences.push_back(fmt::format("unit, uncertainty or band of {} differ: \"{}\" in the report, "
                                                     "\"{}\" now",
                                                     before->name, before->detail, after.detail));
    }
    for (const auto& [key, after] : now_list)
        if (left.contains(key))
            result.differences.push_back(what_is(*after) + " is in the survey now and not in the report");
    const auto assessment = [](const std::vector<Input>& inputs) {
        return std::ranges::find(inputs, "assessment", &Input::kind)->value;
    };
    if (result.differences.empty() && assessment(told) != assessment(now)) {
        const std::string words = "the judgement differs in what is neither a value nor a band";
        if (rounded || !result.remarks.empty())
            result.remarks.push_back(words + ": rounding, or the other version's words");
        else
            result.differences.push_back(words + ": findings, notes, limits of bands or provenance");
    }
    return result;
}

} // namespace becalm::report

#include "ui/report/make_report.h"

#include <algorithm>
#include <filesystem>
#include <iterator>

#include <fmt/format.h>

#include "evaluators/explain.h"
#include "evaluators/exposure.h"
#include "evaluators/exposure_table.h"
#include "src/io/atomic_file.h"
#include "src/io/criteria_folders.h"
#include "src/io/survey_file.h"
#include "ui/report/dates.h"
#include "ui/report/html.h"
#include "ui/report/pdf.h"
#include "ui/report/report_contents.h"
#include "ui/report/unreadable.h"

namespace becalm::report {
namespace {

// Where the survey lies as seen from the report.
std::string relative_to(const std::string& report, const std::string& survey)
{
    std::error_code none;
    const auto folder = std::filesystem::weakly_canonical(std::filesystem::absolute(report, none), none).parent_path();
    const auto file = std::filesystem::weakly_canonical(std::filesystem::absolute(survey, none), none);
    const auto relative = file.lexically_relative(folder);
    return (relative.empty() ? file : relative).generic_string();
}

Problem usage(std::string what, std::string remedy)
{
    return {.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)};
}

// What lies on the disk, read and judged, which a report of whatever name is made of.
struct Sources {
    Survey survey = {};
    io::CriteriaLibrary library = {};
    io::Bibliography bibliography = {};
    ExplanationReport report = {};
    Letterhead letterhead = {};
    std::optional<ExposureReport> exposure = {};
};

Language language_of(const ReportRequest& request)
{
    return figures::language_named(request.language).value_or(Language::english);
}

struct Contents {
    Document document = {};
    std::vector<Input> inputs = {};
    std::string date = {};
};

// The document as it is beside `file`: it names the survey as seen from there.
Contents beside(const std::string& file, const ReportRequest& request, const Sources& sources)
{
    auto inputs = inputs_of(sources.survey, sources.report.assessment, sources.library,
                            relative_to(file, request.survey), request.criteria, BECALM_VERSION);
    const ReportInput input{.survey = sources.survey,
                            .report = sources.report,
                            .library = sources.library,
                            .bibliography = sources.bibliography,
                            .inputs = inputs,
                            .date = request.date,
                            .version = BECALM_VERSION,
                            .letterhead = sources.letterhead,
                            .exposure = sources.exposure};
    Document document = report_contents(input, language_of(request));
    std::string date = date_of(input);
    return {std::move(document), std::move(inputs), std::move(date)};
}

// The days of persons, where the survey tells of some and the call does not ask for something else alone.
Results<std::optional<ExposureReport>> exposure_of(const Survey& survey, const io::CriteriaLibrary& library,
                                                   const ReportRequest& request)
{
    evaluators::AssessOptions daily{.jobs = request.jobs, .stop = request.stop};
    for (const std::string& id : request.criteria)
        if (evaluators::is_daily(library.criteria.at(id))) daily.criteria.push_back(id); // explain() has found each
    if (survey.exposures.empty() || (!request.criteria.empty() && daily.criteria.empty())) return std::nullopt;
    auto made = evaluators::exposure_report(survey, library, {.assess = std::move(daily)});
    if (!made) return tl::unexpected(std::move(made.error()));
    return *std::move(made);
}

std::filesystem::path folder_of(const std::string& file)
{
    std::error_code none;
    return std::filesystem::weakly_canonical(std::filesystem::absolute(file, none), none).parent_path();
}

} // namespace

std::vector<Problem> problems_of(const ReportRequest& request)
{
    if ((request.html.empty() && request.pdf.empty()) || request.html == "-" || request.pdf == "-")
        return {usage("report needs the name of a file to write",
                      "give --html FILE or --pdf FILE; the report names its survey as seen from there")};
    if (request.html == request.pdf)
        return {usage(fmt::format("--html and --pdf both go to {}", request.html), "give one of them another file")};
    if (!figures::language_named(request.language))
        return {
            usage(fmt::format("--language {}: a report speaks en, de or fr", request.language), "give one of these")};
    if (!request.date.empty() && !is_date(request.date))
        return {usage(fmt::format("--date {}: this is no date", request.date), "write it as 2026-03-14")};
    std::error_code none;
    for (const std::string& file : {request.html, request.pdf})
        if (std::filesystem::equivalent(file, request.survey, none))
            return {usage("the report would replace the survey", "give it another file")};
    return {};
}

tl::expected<MadeReport, std::vector<Problem>> made_report(const ReportRequest& request)
{
    if (auto problems = problems_of(request); !problems.empty()) return tl::unexpected(std::move(problems));
    const auto one = [](Problem problem) { return tl::unexpected(std::vector{std::move(problem)}); };
    MadeReport made;
    Sources sources;
    if (!request.letterhead.empty()) {
        auto read = read_letterhead(request.letterhead, language_of(request));
        if (!read) return one(read.error());
        made.cautions = read->cautions;
        sources.letterhead = *std::move(read);
    }
    auto survey = io::read_survey(request.survey);
    if (!survey) return tl::unexpected(survey.error());
    sources.survey = *std::move(survey);
    auto criteria = io::load_all_criteria(request.survey);
    if (!criteria) return tl::unexpected(criteria.error());
    sources.library = std::move(criteria->library);
    std::ranges::copy(sources.library.problems, std::back_inserter(made.cautions));
    auto bibliography = io::read_sources((std::filesystem::path(io::data_folder()) / "sources.toml").string());
    if (!bibliography) return tl::unexpected(bibliography.error());
    sources.bibliography = *std::move(bibliography);
    auto explained = evaluators::explain(
        sources.survey, sources.library,
        {.assess = {
             .criteria = request.criteria, .jobs = request.jobs, .progress = request.progress, .stop = request.stop}});
    if (!explained) return tl::unexpected(explained.error());
    sources.report = *std::move(explained);
    made.unreadable_recordings =
        unreadable_recordings(request.survey, sources.survey, sources.report.assessment.findings);
    sources.report.assessment = portable(std::move(sources.report.assessment), sources.library);
    auto exposure = exposure_of(sources.survey, sources.library, request);
    if (!exposure) return tl::unexpected(exposure.error());
    sources.exposure = *std::move(exposure);

    const auto& assessment = sources.report.assessment;
    made.unreadable = !made.unreadable_recordings.empty();
    made.nothing_judged = std::ranges::none_of(assessment.verdicts, &Verdict::judged);
    auto contents = beside(request.html.empty() ? request.pdf : request.html, request, sources);
    std::string html = open_html(contents.document);
    if (!request.html.empty()) made.html = sealed(html, contents.inputs);
    if (request.pdf.empty()) return made;
    if (!request.html.empty() && folder_of(request.pdf) != folder_of(request.html)) {
        contents = beside(request.pdf, request, sources);
        html = open_html(contents.document);
    }
    const std::string closing = filled(wording_of(language_of(request)).seal_of_html, seal_of(html, contents.inputs));
    const auto pages = pdf_of(contents.document, closing, contents.date);
    if (!pages) return one(pages.error());
    auto pdf = sealed_pdf(*pages, contents.inputs);
    if (!pdf) return one(pdf.error());
    made.pdf = *std::move(pdf);
    return made;
}

Written write_report(const ReportRequest& request, const MadeReport& made)
{
    Written written;
    std::vector<io::FileToWrite> files;
    for (const auto& [file, bytes] : {std::pair(&request.html, &made.html), std::pair(&request.pdf, &made.pdf)})
        if (!file->empty()) files.push_back({*file, *bytes});
    if (const auto result = io::write_files_atomically(files); !result) {
        written.problems.push_back(result.error());
        return written;
    }
    for (const io::FileToWrite& file : files) written.files.push_back(file.path);
    return written;
}

} // namespace becalm::report

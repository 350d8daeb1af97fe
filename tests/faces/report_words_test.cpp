// The tables of words of reports and figures: that each language says all of it, and its own.
#include <bit>
#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "evaluators/quantity.h"
#include "src/io/document_keys.h"
#include "ui/figures/figure_words.h"
#include "ui/figures/ticks.h"
#include "ui/report/core_words.h"

namespace becalm::tests {
namespace {

using figures::all_languages;
using figures::FigureWords;
using figures::Language;
using figures::Phrase;
using report::Wording;
using testing::HasSubstr;

// Both are structures of nothing but phrases.
template <class Table>
std::array<Phrase, sizeof(Table) / sizeof(Phrase)> phrases_of(const Table& table)
{
    return std::bit_cast<std::array<Phrase, sizeof(Table) / sizeof(Phrase)>>(table);
}

int places_in(std::string_view text)
{
    int count = 0;
    for (std::size_t at = text.find("{}"); at != std::string_view::npos; at = text.find("{}", at + 2)) ++count;
    return count;
}

// What is the same in two languages, or no word at all.
const std::set<std::string_view>& alike()
{
    static const std::set<std::string_view> words{"± (k\u00a0=\u00a02)",
                                                  "Hz",
                                                  "d",
                                                  "{} s",
                                                  "Person",
                                                  "Plan",
                                                  "Position",
                                                  "Name",
                                                  "Filter",
                                                  "Version",
                                                  "plan",
                                                  "position",
                                                  "condition",
                                                  "Conditions",
                                                  "source",
                                                  "client",
                                                  "Notes",
                                                  "Client: {}",
                                                  "Date: {}",
                                                  "Instruments",
                                                  "SHA-256",
                                                  "Jan",
                                                  "Feb",
                                                  "Apr",
                                                  "points",
                                                  "date",
                                                  "points/h",
                                                  "Jun",
                                                  "Jul",
                                                  "Aug",
                                                  "Sep",
                                                  "Nov",
                                                  "total",
                                                  "logo",
                                                  " ({} % of it)"};
    return words;
}

template <class Table>
void expect_all_said(const Table& english, const Table& other, Language language)
{
    const auto own = phrases_of(english), theirs = phrases_of(other);
    for (std::size_t i = 0; i < own.size(); ++i) {
        EXPECT_EQ(places_in(own[i]), places_in(theirs[i])) << own[i].text() << " / " << theirs[i].text();
        const bool has_letters = std::ranges::any_of(own[i].text(), [](unsigned char c) { return std::isalpha(c); });
        if (!alike().contains(own[i]) && has_letters) {
            EXPECT_NE(own[i].text(), theirs[i].text()) << "still English in " << code_of(language);
        }
    }
}

TEST(ReportWords, EachLanguageSaysAllOfItInItsOwnWords)
{
    for (const Language language : all_languages) {
        if (language == Language::english) continue;
        expect_all_said(report::english(), report::wording_of(language), language);
        expect_all_said(figures::words_of(Language::english), figures::words_of(language), language);
    }
}

TEST(ReportWords, FrenchHasNoBreakBeforeItsMarks)
{
    for (const Phrase& phrase : phrases_of(report::french()))
        for (const char* broken : {" :", " ;", " ?", "« ", " »"}) EXPECT_THAT(phrase.text(), Not(HasSubstr(broken)));
}

TEST(ReportWords, EveryQuantityHasItsWordsInEachLanguage)
{
    for (const auto& [name, unit] : io::keys::quantity_units) {
        const std::string english = report::quantity_words(name, Language::english);
        const evaluators::Quantity* quantity = evaluators::quantity_named(name);
        ASSERT_NE(quantity, nullptr) << name;
        EXPECT_TRUE(english.starts_with(quantity->meaning)) << name;
        for (const Language language : {Language::german, Language::french}) {
            const std::string words = report::quantity_words(name, language);
            EXPECT_FALSE(words.starts_with(quantity->meaning)) << name << ": " << words;
            EXPECT_EQ(words.find(": ") == std::string::npos, english.find(": ") == std::string::npos) << words;
        }
    }
}

std::set<std::string> found_in(const std::string& file, const std::string& pattern)
{
    std::ifstream stream(std::filesystem::path(BECALM_PROJECT) / file);
    std::stringstream text;
    text << stream.rdbuf();
    const std::string source = text.str();
    const std::regex expression(pattern);
    std::set<std::string> found;
    for (std::sregex_iterator match(source.begin(), source.end(), expression), end; match != end; ++match)
        found.insert((*match)[1]);
    return found;
}

TEST(ReportWords, EveryFindingOfAJudgementHasATitle)
{
    std::set<std::string> codes;
    for (const char* file : {"fitness", "survey_conditions", "assess", "verdicts", "measured", "pass"})
        codes.merge(found_in(fmt::format("evaluators/{}.cpp", file),
                             R"x((?:\.code = |Severity::\w+, |report_runs\([^,]*, )"([a-z-]+)")x"));
    EXPECT_GE(codes.size(), 20U) << "the search finds them";
    for (const std::string& code : codes)
        for (const Language language : all_languages)
            EXPECT_NE(report::finding_title(code, language), code) << "give it a row in core_words.cpp";
}

TEST(ReportWords, EveryLineOfASourceHasItsWords)
{
    const std::set<std::string> names = found_in("evaluators/sources.cpp", R"x((?:multiples|line)\("([^"]+)")x");
    EXPECT_GE(names.size(), 10U) << "the search finds them";
    for (const std::string& name : names)
        EXPECT_NE(figures::line_words(name, Language::german), name) << "give it a row in figure_words.cpp";
    EXPECT_EQ(figures::line_words("blade passing x 3", Language::german), "Blattfolge × 3");
    EXPECT_EQ(figures::line_words("blade passing x 3", Language::english), "blade passing x 3");
    EXPECT_EQ(figures::line_words("order 2.5", Language::french), "ordre 2,5");
    EXPECT_EQ(figures::line_words("somebody's own", Language::german), "somebody's own");
}

TEST(ReportWords, PartsOfAnUncertaintyAndInputsAreNamed)
{
    for (const char* part : {"calibration", "filter", "mounting", "position", "statistics"})
        EXPECT_NE(report::uncertainty_part_words(part, Language::german), part);
    for (const char* kind : {"survey", "asked", "recording", "criterion", "assessment"})
        EXPECT_NE(report::input_kind_words(kind, Language::german), kind);
}

TEST(ReportWords, SentencesOfManyReportsAreSaidInTheLanguage)
{
    EXPECT_EQ(report::sentence_words("the first 3 s are left out while the filter settles", Language::german),
              "die ersten 3 s bleiben unberücksichtigt, während das Filter einschwingt");
    EXPECT_EQ(report::sentence_words("145 s measured, taken to stand for 7.5 h", Language::french),
              "145 s mesurées, représentatives de 7,5 h");
    EXPECT_THAT(report::sentence_words("axis x: MTVV is 1.95 times a_w, above 1.5: the running r.m.s. tells more here "
                                       "(ISO 2631-1, 6.3.3)",
                                       Language::german),
                testing::Optional(HasSubstr("Achse x: MTVV ist das 1,95-Fache von a_w")));
    EXPECT_EQ(report::sentence_words("6 s excluded", Language::english), "6 s excluded");
    for (const char* other : {"", " s excluded", "6 s excluded, and more", "what somebody wrote. 6 s excluded",
                              "the first 3 s are left out"})
        EXPECT_EQ(report::sentence_words(other, Language::german), std::nullopt) << other;
}

TEST(ReportWords, NumbersAndDatesFollowTheLanguage)
{
    EXPECT_EQ(report::value_text(0.0812, "m/s2", Language::english), "81.2");
    EXPECT_EQ(report::value_text(0.0812, "m/s2", Language::german), "81,2");
    EXPECT_EQ(report::uncertainty_text(0.00058, "m/s2", Language::french), "0,58");
    EXPECT_EQ(report::exact_text(0.1234567890123, Language::german), "0,1234567890123");
    EXPECT_EQ(report::date_text("2026-03-14", Language::english), "2026-03-14");
    EXPECT_EQ(report::date_text("2026-03-14T09:30:00+01:00", Language::english), "2026-03-14 09:30:00 +01:00");
    EXPECT_EQ(report::date_text("2026-03-14", Language::german), "14.03.2026");
    EXPECT_EQ(report::date_text("2026-03-14T09:30:00+01:00", Language::french), "14/03/2026 09:30:00 +01:00");
    EXPECT_EQ(report::date_text("2026-03-14T09:30:00.25Z", Language::german), "14.03.2026 09:30:00.25 Z");
    EXPECT_EQ(report::date_text("2026-03-14T", Language::german), "14.03.2026");
    for (const char* no_date : {"", "soon", "2026-3-14", "14.03.2026"})
        EXPECT_EQ(report::date_text(no_date, Language::german), no_date);
}

TEST(ReportWords, MarksOfAnAxisCarryTheDecimalSignAndMonthsTheirName)
{
    const figures::LabelRoom room{[](std::string_view text) { return 6.0 * static_cast<double>(text.size()); }};
    const figures::AxisScale scale{0.0, 1.0, false, 0.0, 400.0};
    const auto marks = in_digits_of(Language::german, linear_ticks(scale, {}, room)).marks;
    ASSERT_GT(marks.size(), 2U);
    EXPECT_EQ(marks[1].label, "0,1");
    const std::chrono::local_seconds start{std::chrono::local_days{std::chrono::year{2026} / 3 / 14}};
    const figures::AxisScale days{0.0, 4.0 * 86400.0, false, 0.0, 400.0};
    EXPECT_EQ(time_ticks(days, start, room, Language::german).marks.front().label, "14 Mär");
    EXPECT_EQ(time_ticks(days, start, room, Language::french).marks.front().label, "14 mars");
}

} // namespace
} // namespace becalm::tests

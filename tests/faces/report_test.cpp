// becalm report and becalm verify, in process. The signals are the test's own; what the report must say is the JSON of
// `assess`, rounded here by the rule: three significant digits of a value, two of an uncertainty.
#include <algorithm>
#include <bit>
#include <filesystem>
#include <regex>
#include <set>

#include <gmock/gmock.h>

#include "ui/figures/figure_words.h"
#include "ui/report/wording.h"

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

// Significant digits without an exponent, by the definition, for values between 0.001 and 99,999.
std::string rounded(double value, int digits)
{
    if (value == 0.0) return "0";
    const int magnitude = static_cast<int>(std::floor(std::log10(std::abs(value))));
    const double step = std::pow(10.0, magnitude - digits + 1);
    const double whole = std::round(value / step) * step;
    const int after = static_cast<int>(std::floor(std::log10(std::abs(whole) * (1.0 + 1e-12))));
    return fmt::format("{:.{}f}", whole, std::max(0, digits - 1 - after));
}

std::vector<std::string> matches_of(const std::string& text, const std::string& pattern)
{
    const std::regex expression(pattern);
    std::vector<std::string> found;
    for (std::sregex_iterator match(text.begin(), text.end(), expression), end; match != end; ++match)
        found.push_back((*match)[1]);
    return found;
}

class Report : public testing::Test {
protected:
    static constexpr const char* local_criterion =
        "id = \"local\"\ntitle = \"Local limit\"\nsource = \"iso2631-1-1997\"\nclause = \"contract\"\n"
        "quantity = \"weighted_rms\"\nunit = \"m/s2\"\naxes = \"highest\"\nneeded = [\"z\"]\nweighting = \"Wk\"\n"
        "confirmed = \"from memory\"\n[[scale]]\nuse = \"any\"\n"
        "bands = [ { name = \"kept\", up_to = LIMIT }, { name = \"not kept\", exceeds = true } ]\n";

    void write_criterion(const std::string& limit) const
    {
        std::filesystem::create_directories(folder_.path("criteria"));
        std::string text = local_criterion;
        text.replace(text.find("LIMIT"), 5, limit);
        folder_.file("criteria/local.toml", text);
    }

    // Two places, a tone and noise; a sensor with an uncertainty; a propeller.
    std::string survey(const std::string& title = "Test", const std::string& excluded = "") const
    {
        Signal signal = sine(70.0, 500.0, 7.0, 0.12);
        const Signal other = sine(70.0, 500.0, 31.7, 0.05);
        for (std::size_t i = 0; i < signal.size(); ++i) signal[i] += other[i];
        folder_.file("a.wav", wav({signal}, 500));
        folder_.file("b.wav", wav({noise(70.0, 500.0, 0.03, 7)}, 500));
        write_criterion("0.5");
        return folder_.file("survey.toml",
                            fmt::format("title = {}\nsetting = \"vessel\"\nclient = \"A & B <sons>\"\n"
                                        "[[sensor]]\nid = \"s\"\nuncertainty_percent = 3.3\ncalibrated = 2026-01-20\n"
                                        "[[source]]\nid = \"prop\"\nkind = \"propeller\"\nrpm = 105\nblades = 4\n"
                                        "[[space]]\nid = \"c\"\nlabel = \"Cabin\"\nuse = \"passenger-cabin\"\n"
                                        "[[space]]\nid = \"m\"\nlabel = \"مقصورة 12\"\nuse = \"working-area\"\n"
                                        "[[recording]]\nfile = \"a.wav\"\nspace = \"c\"\nsensor = \"s\"\n"
                                        "start = 2026-03-14T09:30:00+01:00\n{}channels = {{ 1 = \"z\" }}\n"
                                        "[[recording]]\nfile = \"b.wav\"\nspace = \"m\"\nchannels = {{ 1 = \"z\" }}\n"
                                        "[[judge]]\ncriteria = [\"iso6954-2000\", \"local\"]\n",
                                        json(title).dump(), excluded));
    }

    std::string report(const std::vector<std::string>& more = {}, int code = 0) const
    {
        std::vector<std::string> arguments{"report", folder_.path("survey.toml"), "--html", folder_.path("r.html")};
        arguments.insert(arguments.end(), more.begin(), more.end());
        const Outcome outcome = call(arguments);
        EXPECT_EQ(outcome.code, code) << outcome.err << outcome.out;
        return content_of(folder_.path("r.html"));
    }

    Outcome verified() const { return call({"verify", folder_.path("r.html")}); }

    const ScratchFolder folder_;
};

TEST_F(Report, EveryNumberIsTheJsonRoundedByTheRuleAndInFullInTheAppendix)
{
    const std::string path = survey();
    const json assessment = call({"assess", path, "--no-cache", "--json", "-"}).json();
    const std::string html = report();
    ASSERT_EQ(assessment["verdicts"].size(), 4U);
    for (std::size_t i = 0; i < assessment["verdicts"].size(); ++i) {
        const json& verdict = assessment["verdicts"][i];
        ASSERT_TRUE(verdict["judged"]) << verdict;
        const auto rows = matches_of(html, fmt::format("<tr data-verdict=\"{}\">(.*)</tr>", i));
        ASSERT_FALSE(rows.empty()) << i;
        // Both are given in m/s2, and told in mm/s2.
        const double value = 1e3 * verdict["value"].get<double>();
        EXPECT_THAT(rows.front(), HasSubstr(">" + rounded(value, 3) + "</td>")) << verdict;
        EXPECT_THAT(rows.front(), HasSubstr(verdict["band"].get<std::string>()));
        EXPECT_THAT(rows.front(), HasSubstr("mm/s²"));
        if (!verdict["expanded_uncertainty"].is_null()) {
            const double uncertainty = 1e3 * verdict["expanded_uncertainty"].get<double>();
            EXPECT_THAT(rows.front(), HasSubstr(">" + rounded(uncertainty, 2) + "</td>")) << verdict;
        }
        EXPECT_THAT(html, HasSubstr(fmt::format("data-value=\"{}\"", verdict["value"].get<double>())));
        for (const json& term : verdict["terms"]) {
            if (term["value"].is_null()) continue;
            EXPECT_THAT(html, HasSubstr(fmt::format(">{}</td>", term["value"].get<double>())));
        }
    }
}

TEST_F(Report, TellsWhatAReaderNeedsToCheckIt)
{
    survey("Test", "exclude = [ { from_s = 20, to_s = 25, reason = \"a door\" } ]\n");
    const std::string html = report();
    for (const char* said : {"a door", "2026-01-20", "prop (blade passing)", "structural, machinery or health",
                             "practice prevail", "ISO 6954:2000", "adverse comments not probable", "from memory",
                             "2026-03-14", "weighted: channel 1 (z) by Wm"})
        EXPECT_THAT(html, HasSubstr(said));
    EXPECT_EQ(matches_of(html, "(<svg )").size(), 6U) << "a ruler, a spectrum and a ladder for each criterion";
}

// Each item that publications ask a report for stands in it, stated or not. [bs6472-1-2008, annex A; din4150-2-1999, 8]
// (as listed in secondary texts)
TEST_F(Report, NamesWhatIsNotStated)
{
    const std::string path = survey();
    std::string html = report();
    const std::vector<std::pair<std::string, std::string>> items{{"purpose", "purpose"},
                                                                 {"object", "object"},
                                                                 {"author", "author"},
                                                                 {"instruments", "instruments"},
                                                                 {"mounting", "mounting of the sensors"},
                                                                 {"background", "background vibration"},
                                                                 {"complaints", "complaints, rattle, sound"},
                                                                 {"deviations", "deviations from the publications"}};
    const auto row = [](const std::string& item, const std::string& text) {
        return fmt::format("<tr><th scope=\"row\" dir=\"auto\">{}</th><td dir=\"auto\">{}</td></tr>", item, text);
    };
    for (const auto& [key, item] : items) EXPECT_THAT(html, HasSubstr(row(item, "not stated")));
    EXPECT_THAT(html, HasSubstr(row("client", "A &amp; B &lt;sons&gt;")));
    std::string text = content_of(path);
    for (const auto& [key, item] : items) text = fmt::format("{0} = \"<{0}> of old\"\n{1}", key, text);
    folder_.file("survey.toml", text);
    html = report();
    for (const auto& [key, item] : items)
        EXPECT_THAT(html, HasSubstr(row(item, fmt::format("&lt;{}&gt; of old", key))));
}

TEST_F(Report, ShowsMarkupInNamesAsText)
{
    survey("<script>alert('x')</script> & \"<b>\" ]]> &lt; \u202e evil");
    const std::string html = report({"--date", "2026-04-01"});
    EXPECT_THAT(html, HasSubstr("Date: 2026-04-01"));
    EXPECT_THAT(html, Not(HasSubstr("<script")));
    EXPECT_THAT(html, Not(HasSubstr("<b>")));
    EXPECT_THAT(html, Not(HasSubstr("\u202e")));
    EXPECT_THAT(html, HasSubstr("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;&lt;b&gt;&quot;"));
    EXPECT_THAT(html, HasSubstr("A &amp; B &lt;sons&gt;"));
    EXPECT_THAT(html, HasSubstr("\u2068مقصورة 12\u2069")) << "beside other words in a sentence";
    EXPECT_EQ(verified().code, 0) << verified().out;
}

TEST_F(Report, GivesTheSameBytesAgainAndWritesNothingElse)
{
    survey();
    const std::string first = report();
    const std::size_t entries = folder_.entries();
    EXPECT_EQ(report({"--jobs", "1"}), first);
    EXPECT_EQ(folder_.entries(), entries);
    EXPECT_EQ(entries, 5U) << "survey, criteria, two recordings, the report";
}

TEST_F(Report, IsTheSameFromWhereverItIsCalled)
{
    survey();
    const std::string first = report();
    const auto here = std::filesystem::current_path();
    std::filesystem::current_path(folder_.path());
    const Outcome outcome = call({"report", "survey.toml", "--html", "r.html"});
    std::filesystem::current_path(here);
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(content_of(folder_.path("r.html")), first);
}

TEST_F(Report, IsWrittenWhereNothingCanBeJudged)
{
    survey();
    folder_.file("a.wav", wav({Signal(35000, 0.0)}, 500));
    folder_.file("b.wav", "not a recording");
    const std::string html = report({}, 3);
    EXPECT_THAT(html, HasSubstr("Nothing could be judged"));
    EXPECT_THAT(html, HasSubstr("There is no judged value to explain."));
    EXPECT_THAT(html, HasSubstr("cannot be judged, because"));
    EXPECT_THAT(html, HasSubstr(">not read</td>"));
    EXPECT_EQ(verified().code, 0) << verified().out << verified().err;
}

TEST_F(Report, CarriesPlansAndLetterheadWithinIt)
{
    survey();
    folder_.file("survey.toml",
                 content_of(folder_.path("survey.toml")) +
                     "[[plan]]\nid = \"p\"\ntitle = \"Deck\"\nfile = \"p.svg\"\n"
                     "[[plan]]\nid = \"q\"\nfile = \"gone.png\"\n"
                     "[[space]]\nid = \"n\"\nuse = \"working-area\"\nplan = \"p\"\nplace = [0.5, 0.25]\n");
    folder_.file("p.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"4\" height=\"4\"/>");
    std::filesystem::create_directories(folder_.path("letter"));
    folder_.file("letter/header.txt", "Office <of> one\n\nStreet 1\n");
    folder_.file("letter/closing.txt", "Signed: ______");
    const Outcome outcome = call({"report", folder_.path("survey.toml"), "--html", folder_.path("r.html"),
                                  "--letterhead", folder_.path("letter")});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_THAT(outcome.err, HasSubstr("no logo"));
    const std::string html = content_of(folder_.path("r.html"));
    EXPECT_THAT(html, HasSubstr("data:image/svg+xml;base64,PHN2ZyB4bWxucz0i"));
    EXPECT_THAT(html, HasSubstr("style=\"left:50.00%;top:25.00%\">3</span>"));
    EXPECT_THAT(html, HasSubstr("gone.png"));
    EXPECT_THAT(html, HasSubstr("Office &lt;of&gt; one"));
    EXPECT_THAT(html, HasSubstr("Signed: ______"));
    EXPECT_EQ(verified().code, 0) << verified().out;
    folder_.file("letter/logo.png", "no picture");
    EXPECT_EQ(call({"report", folder_.path("survey.toml"), "--html", folder_.path("r.html"), "--letterhead",
                    folder_.path("letter")})
                  .code,
              3);
    EXPECT_EQ(content_of(folder_.path("r.html")), html) << "what was refused has written nothing";
}

TEST_F(Report, RefusesACallThatCannotBeMeant)
{
    const std::string path = survey();
    EXPECT_EQ(call({"report", path}).code, 2);
    EXPECT_EQ(call({"report", path, "--html", "-"}).code, 2);
    EXPECT_EQ(call({"report", path, "--html", path}).code, 2);
    EXPECT_EQ(call({"report", path, "--html", folder_.path("r.html"), "--date", "2026-02-30"}).code, 2);
    EXPECT_EQ(call({"report", path, "--html", folder_.path("r.html"), "--letterhead", folder_.path("none")}).code, 2);
    EXPECT_EQ(call({"report", path, "--html", folder_.path("no/such/r.html")}).code, 3);
    EXPECT_FALSE(std::filesystem::exists(folder_.path("r.html")));
}

// --- languages

// What the report says itself: without the style, without what it marks as English, without tags.
std::string own_words(const std::string& html)
{
    std::string text;
    std::size_t at = html.find("</style>");
    while (at != std::string::npos) {
        const std::size_t open = html.find('<', at);
        text += html.substr(at, open - at) + "\n";
        if (open == std::string::npos) break;
        const std::size_t end = html.find('>', open);
        const std::string tag = html.substr(open, end - open + 1);
        at = end == std::string::npos ? end : end + 1;
        if (tag.find(" lang=\"en\"") == std::string::npos || tag.starts_with("<html")) continue;
        const std::string name = tag.substr(1, tag.find(' ') - 1);
        at = html.find("</" + name + ">", at);
    }
    return text;
}

// `phrase` between letters that are not its own.
bool says(const std::string& text, const std::string& phrase)
{
    const auto is_letter = [&](std::size_t i) {
        return i < text.size() && (std::isalnum(static_cast<unsigned char>(text[i])) != 0 || (text[i] & 0x80) != 0);
    };
    for (std::size_t at = text.find(phrase); at != std::string::npos; at = text.find(phrase, at + 1))
        if (!is_letter(at - 1) && !is_letter(at + phrase.size())) return true;
    return false;
}

template <class Table>
std::vector<std::string> phrases_of(const Table& table)
{
    std::vector<std::string> texts;
    for (const auto& phrase :
         std::bit_cast<std::array<figures::Phrase, sizeof(Table) / sizeof(figures::Phrase)>>(table))
        texts.push_back(phrase.text());
    return texts;
}

std::vector<std::string> all_phrases(figures::Language language)
{
    std::vector<std::string> texts = phrases_of(report::wording_of(language));
    for (std::string& text : phrases_of(figures::words_of(language))) texts.push_back(std::move(text));
    return texts;
}

// The pieces of English phrases, between what is filled in, that stand in `text`, and that `language` does not say too.
std::vector<std::string> english_in(const std::string& text, figures::Language language)
{
    constexpr std::size_t least_letters = 5; // shorter ones are words of other languages, or of names
    // Of names: "Local limit", "between the two values", and "floor" in the key of a verdict.
    const std::set<std::string> of_names{"limit", "values", "floor"};
    const std::vector<std::string> own = all_phrases(language);
    std::vector<std::string> found;
    for (std::string rest : all_phrases(figures::Language::english))
        while (!rest.empty()) {
            const std::string piece = rest.substr(0, rest.find("{}"));
            rest.erase(0, std::min(rest.size(), piece.size() + 2));
            const std::size_t from = piece.find_first_not_of(" ,:;.("), to = piece.find_last_not_of(" ,:;.(");
            if (from == std::string::npos || to - from + 1 < least_letters) continue;
            const std::string words = piece.substr(from, to - from + 1);
            if (!of_names.contains(words) && says(text, words) &&
                std::ranges::none_of(own, [&](const std::string& phrase) { return says(" " + phrase + " ", words); }))
                found.push_back(words);
        }
    return found;
}

TEST_F(Report, SpeaksTheLanguageAskedForAndMarksWhatIsQuoted)
{
    survey("Test", "exclude = [ { from_s = 20, to_s = 25.5, reason = \"Tor\" } ]\n");
    for (const auto language : {figures::Language::german, figures::Language::french}) {
        const std::string code(figures::code_of(language));
        const std::string html = report({"--language", code});
        EXPECT_THAT(html, HasSubstr("<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"" + code + "\""));
        EXPECT_THAT(html, Not(HasSubstr("are left out while the filter settles"))) << "one of the sentences it knows";
        EXPECT_THAT(html, HasSubstr("<ul lang=\"en\" xml:lang=\"en\">\n<li")) << "the others are quoted";
        const std::string text = own_words(html);
        EXPECT_THAT(english_in(text, language), testing::IsEmpty());
        EXPECT_THAT(text, HasSubstr("20–25,5"));
        EXPECT_THAT(text, HasSubstr("adverse comments not probable")) << "the publication's own words";
        EXPECT_EQ(verified().code, 0) << verified().out;
        EXPECT_EQ(report({"--language", code, "--jobs", "1"}), html);
    }
}

TEST_F(Report, IsInEnglishWhereNothingElseIsAskedFor)
{
    survey();
    const std::string english = report();
    EXPECT_GT(english_in(own_words(english), figures::Language::german).size(), 50U) << "the search finds them";
    EXPECT_EQ(report({"--language", "en"}), english);
    EXPECT_THAT(report({"--language", "de"}), HasSubstr("Datum: 14.03.2026"));
    EXPECT_THAT(report({"--language", "fr"}), HasSubstr("Date\u00a0: 14/03/2026"));
    const Outcome other =
        call({"report", folder_.path("survey.toml"), "--html", folder_.path("r.html"), "--language", "it"});
    EXPECT_EQ(other.code, 2);
    EXPECT_THAT(other.err, HasSubstr("en, de or fr"));
}

TEST_F(Report, SaysInItsLanguageThatNothingCanBeJudgedAndThatSomebodyMustAct)
{
    survey();
    folder_.file("a.wav", wav({Signal(35000, 0.0)}, 500));
    folder_.file("b.wav", "not a recording");
    const std::string refused = own_words(report({"--language", "de"}, 3));
    EXPECT_THAT(english_in(refused, figures::Language::german), testing::IsEmpty());
    EXPECT_THAT(refused, HasSubstr("Es konnte nichts beurteilt werden"));
    EXPECT_THAT(refused, HasSubstr("konstanter Kanal"));

    const Signal signal = sine(70.0, 500.0, 7.0, 2.0);
    folder_.file("d.wav", wav({signal, signal, signal}, 500));
    folder_.file("survey.toml", "title = \"Tag\"\nsetting = \"road\"\n"
                                "[[space]]\nid = \"s\"\nuse = \"any\"\n[[recording]]\nfile = \"d.wav\"\nspace = \"s\"\n"
                                "position = \"seat-pan\"\nchannels = { 1 = \"x\", 2 = \"y\", 3 = \"z\" }\n"
                                "[[exposure]]\nperson = \"Fahrerin\"\n"
                                "tasks = [ { space = \"s\", position = \"seat-pan\", hours = 6.5 } ]\n"
                                "[[judge]]\ncriteria = [\"directive-2002-44-ec-a8\"]\n");
    const std::string exceeded = own_words(report({"--language", "fr"}));
    EXPECT_THAT(exceeded, HasSubstr("Une valeur d’exposition déclenchant l’action est dépassée pour Fahrerin. "
                                    "L’employeur a l’obligation d’agir"));
    EXPECT_THAT(exceeded, HasSubstr("6,5"));
    EXPECT_THAT(exceeded, HasSubstr("Obligation d’agir\u00a0: Fahrerin: "));
    const auto of_names = testing::Each( // of bands and titles of the Directive and of keys in the appendix
        testing::AnyOf("value", "exceeded", "below", "Daily exposure", "seat-pan", "source"));
    EXPECT_THAT(english_in(exceeded, figures::Language::french), of_names);
    const std::string day = own_words(report({"--language", "de"}));
    EXPECT_THAT(english_in(day, figures::Language::german), of_names);
    EXPECT_THAT(day, HasSubstr("Sitzfläche"));
    EXPECT_THAT(day, HasSubstr("Pflicht zum Handeln: Fahrerin: "));
}

TEST_F(Report, TellsTheSameNumbersAndInputsInEachLanguage)
{
    survey();
    const std::string english = report();
    const auto facts = [](const std::string& html) { return matches_of(html, "<tr( data-input=[^>]*)>"); };
    const auto values = [](std::string html) {
        std::ranges::replace(html, ',', '.');
        return matches_of(html, "<td class=\"number\" dir=\"auto\">([0-9][0-9.]*)</td>");
    };
    ASSERT_GT(facts(english).size(), 8U);
    ASSERT_GT(values(english).size(), 40U);
    for (const char* code : {"de", "fr"}) {
        const std::string html = report({"--language", code});
        EXPECT_EQ(facts(html), facts(english)) << code;
        EXPECT_EQ(values(html), values(english)) << code;
        std::string changed = html;
        const std::size_t at = changed.find("data-value=\"0.");
        ASSERT_NE(at, std::string::npos);
        folder_.file("r.html", changed.replace(at, 14, "data-value=\"1."));
        EXPECT_EQ(verified().code, 3);
        EXPECT_THAT(verified().out, HasSubstr("the value of c / floor / iso6954-2000 / z differs"));
        EXPECT_THAT(verified().out, HasSubstr("the text of the report is no longer the one that was sealed"));
    }
}

TEST_F(Report, TakesTheLetterheadOfItsLanguage)
{
    survey();
    std::filesystem::create_directories(folder_.path("letter"));
    folder_.file("letter/logo.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"4\" height=\"4\"/>");
    folder_.file("letter/header.txt", "Office");
    folder_.file("letter/header.de.txt", "Büro");
    folder_.file("letter/closing.txt", "Signed: ______");
    const std::string german = report({"--language", "de", "--letterhead", folder_.path("letter")});
    EXPECT_THAT(german, HasSubstr(">Büro</p>"));
    EXPECT_THAT(german, Not(HasSubstr(">Office</p>")));
    EXPECT_THAT(german, HasSubstr("Signed: ______")) << "there is none in German";
    EXPECT_THAT(report({"--letterhead", folder_.path("letter")}), HasSubstr(">Office</p>"));
}

// --- verify

TEST_F(Report, AgreesWithItsSurveyWhereverBothAreMoved)
{
    survey();
    report({"--criterion", "local"});
    EXPECT_EQ(verified().code, 0) << verified().out;
    EXPECT_THAT(verified().out, HasSubstr("2 recordings, 2 verdicts"));
    const ScratchFolder elsewhere;
    std::filesystem::copy(folder_.path(), elsewhere.path("moved"), std::filesystem::copy_options::recursive);
    const Outcome moved = call({"verify", elsewhere.path("moved/r.html")});
    EXPECT_EQ(moved.code, 0) << moved.out << moved.err;
}

TEST_F(Report, ShowsWhichRecordingChanged)
{
    survey();
    report();
    folder_.file("b.wav", wav({noise(70.0, 500.0, 0.03, 8)}, 500));
    const Outcome outcome = verified();
    EXPECT_EQ(outcome.code, 3);
    EXPECT_THAT(outcome.out, HasSubstr("the recording b.wav differs"));
    EXPECT_THAT(outcome.out, HasSubstr("the value of m / floor / iso6954-2000 / z differs"));
    EXPECT_THAT(outcome.out, Not(HasSubstr("a.wav differs")));
    EXPECT_THAT(outcome.out, Not(HasSubstr("the value of c ")));
    EXPECT_THAT(outcome.out, Not(HasSubstr("the text of the")));
}

TEST_F(Report, ShowsThatASpanIsExcludedSince)
{
    survey();
    report();
    survey("Test", "exclude = [ { from_s = 20, to_s = 25.5, reason = \"a door\" } ]\n");
    const Outcome outcome = verified();
    EXPECT_EQ(outcome.code, 3);
    EXPECT_THAT(outcome.out, HasSubstr("the text of the survey survey.toml differs"));
    EXPECT_THAT(outcome.out, HasSubstr("the value of c / floor / local / z differs"));
    EXPECT_THAT(outcome.out, Not(HasSubstr("the recording")));
}

TEST_F(Report, ShowsThatALimitChanged)
{
    survey();
    report();
    write_criterion("0.001");
    const Outcome outcome = verified();
    EXPECT_EQ(outcome.code, 3);
    EXPECT_THAT(outcome.out, HasSubstr("the criterion local differs"));
    EXPECT_THAT(outcome.out, HasSubstr("; not kept"));
    EXPECT_THAT(outcome.out, Not(HasSubstr("the value of")));
}

TEST_F(Report, ShowsThatItsOwnTextChanged)
{
    survey();
    std::string html = report();
    const std::size_t at = html.find("not a structural");
    ASSERT_NE(at, std::string::npos);
    folder_.file("r.html", html.replace(at, 3, "now"));
    EXPECT_EQ(verified().code, 3);
    EXPECT_THAT(verified().out, HasSubstr("the text of the report is no longer the one that was sealed"));
    folder_.file("r.html", html + "<p>more</p>");
    EXPECT_EQ(verified().code, 3);
}

TEST_F(Report, IsNotReadWhereItIsNone)
{
    survey();
    folder_.file("r.html", "<!DOCTYPE html>\n<html><body>nothing</body></html>");
    EXPECT_EQ(verified().code, 3);
    EXPECT_THAT(verified().err, HasSubstr("this is no report of this program"));
    std::string html = report();
    const std::size_t at = html.find(" data-name=");
    folder_.file("r.html", html.replace(at, 11, " data-nome="));
    EXPECT_THAT(verified().err, HasSubstr("cannot be read at byte"));
    EXPECT_EQ(call({"verify", folder_.path("absent.html")}).code, 3);
}

} // namespace
} // namespace becalm::tests

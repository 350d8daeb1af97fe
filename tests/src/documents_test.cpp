// The two TOML documents: surveys and criteria. Expected values are what data/schema and the texts below say
// themselves; the numbers of the shipped criteria carry their origin in data/criteria.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <rapidcheck.h>
#include <set>
#include <sstream>
#include <unistd.h>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>
#include <rapidcheck/gtest.h>

#include "src/base/nearest.h"
#include "src/base/units.h"
#include "src/io/atomic_file.h"
#include "src/io/criterion_file.h"
#include "src/io/document_keys.h"
#include "src/io/sensitivity.h"
#include "src/io/survey_file.h"
#include "src/io/teds.h"
#include "src/io/toml_text.h"

namespace becalm::io {

namespace {

namespace fs = std::filesystem;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

// A survey that uses every key, with comments in every kind of place.
const std::string whole_survey = R"(# head
title = "Ferry \"Invented\""   # title comment
setting = "vessel"
client = "nobody"
note = "a note"
purpose = "to know"
object = "a ferry"
author = "somebody"
instruments = "a recorder"
mounting = "with wax"
background = "none"
complaints = "a rattle"
deviations = "none known"
mounting_percent = 3
position_percent = 5.5
decision_rule = "guarded"

[[sensor]]
id = "a1"
title = "triaxial"
serial = "17"
calibrated = 2026-03-01
certificate = "C-1"
uncertainty_percent = 2.0

[[condition]]
id = "service"
title = "at sea"
period = "day"
exposure_h = 16
events = 12
shaft_rpm = 105.5

[[source]]
id = "propeller"
title = "four blades"
kind = "propeller"
rpm = 105
blades = 4
reference_channel = 4

[[plan]]
id = "deck-5"
title = "Deck 5"
file = "plans/ferry.PDF"
page = 3

[[space]]
id = "d5-201"
label = "Cabin 201"
use = "passenger-cabin"
group = "Deck 5"
plan = "deck-5"
place = [0.31, 1]
position_percent = 7.5

[[recording]]
file = "rec/d5-201.wav" # the cabin
space = "d5-201"
position = "bed"
condition = "service"
sensor = "a1"
channels = { 1 = "x", 3 = "z", 2 = "y" }
unit = "mm/s2"
scale = -9.81
start = 2026-05-02T10:12:00+01:00
exclude = [
  { from_s = 12.0, to_s = 15.0, reason = "door slam" }, # somebody left
  { from_s = 20, to_s = 21.5, reason = "steps" }
]
mounting_percent = 4
position_percent = 0
comment = "windy"

[[recording]]
file = "rec/bow.csv"
space = "d5-201"
channels = { 1 = "z" }

[[judge]]
criteria = ["iso6954-2000"]
uses = ["passenger-cabin"]
#tail
)";

std::string replaced(std::string text, std::string_view what, std::string_view with)
{
    const std::size_t at = text.find(what);
    EXPECT_NE(at, std::string::npos) << what;
    return text.replace(at, what.size(), with);
}

int line_of(std::string_view text, std::string_view what)
{
    return 1 + static_cast<int>(std::ranges::count(text.substr(0, text.find(what)), '\n'));
}

std::string listed(const std::vector<Problem>& problems)
{
    std::string out;
    for (const Problem& problem : problems) out += to_text(problem) + " [" + problem.key + "]\n";
    return out;
}

std::vector<Problem> faults_of(const std::string& text)
{
    const Results<Survey> survey = parse_survey(text, "survey.toml");
    return survey ? std::vector<Problem>{} : survey.error();
}

std::string with_line_ends(std::string text, std::string_view end)
{
    std::string out;
    for (const char c : text) out += c == '\n' ? std::string(end) : std::string(1, c);
    return out;
}

std::vector<std::string> lines_of(const std::string& text)
{
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

// Everything a survey says, without lines and hashes: two surveys with the same text here say the same.
std::string content_of(const Survey& s)
{
    std::string out =
        fmt::format("{}|{}|{}|{}|{}\n", s.title, name_of(s.setting), s.client, s.note, name_of(s.decision_rule));
    const auto values = [](const std::map<std::string, double>& map) {
        std::string text;
        for (const auto& [key, value] : map) text += fmt::format(" {}={}", key, value);
        return text;
    };
    const auto number = [](const std::optional<double>& value) { return value ? fmt::format("{}", *value) : "-"; };
    for (const auto& [key, text] : s.statements) out += fmt::format("{}: {}\n", key, text);
    out += fmt::format("{}|{}\n", number(s.mounting_percent), number(s.position_percent));
    for (const Sensor& e : s.sensors)
        out += fmt::format("sensor {}|{}|{}|{}|{}|{}\n", e.id, e.title, e.serial, e.calibrated, e.certificate,
                           number(e.uncertainty_percent)) +
               fmt::format("{}|{}|{}|{}|{}|{}\n", e.model, number(e.sensitivity), e.sensitivity_unit,
                           number(e.calibration_valid_months), number(e.noise_m_s2), e.teds);
    for (const Sensor& e : s.sensors)
        for (const Calibration& c : e.calibrations)
            out += fmt::format("calibration {}|{}|{}|{}\n", c.date, number(c.sensitivity),
                               number(c.uncertainty_percent), c.certificate);
    for (const CalibrationCheck& c : s.calibration_checks)
        out += fmt::format("check {}|{}|{}|{}|{}|{}|{}|{}|{}\n", c.file, c.sensor, c.channel, c.when, c.unit,
                           number(c.scale), c.amplitude, c.hz, c.tolerance_percent);
    for (const Condition& e : s.conditions)
        out += fmt::format("condition {}|{}|{}|{}|{}|{}\n", e.id, e.title, e.period, number(e.exposure_h),
                           number(e.events), values(e.values));
    for (const Source& e : s.sources)
        out += fmt::format("source {}|{}|{}|{}|{}\n", e.id, e.title, e.kind, values(e.values),
                           e.reference_channel.value_or(0));
    for (const Plan& e : s.plans) out += fmt::format("plan {}|{}|{}|{}\n", e.id, e.title, e.file, e.page);
    for (const Space& e : s.spaces)
        out += fmt::format("space {}|{}|{}|{}|{}|{}|{}\n", e.id, e.label, e.use, e.group, e.plan,
                           e.place ? fmt::format("{},{}", e.place->x, e.place->y) : "-", number(e.position_percent));
    for (const Recording& e : s.recordings) {
        out += fmt::format("recording {}|{}|{}|{}|{}|{}|{}|{}|{}|{}|{}\n", e.file, e.space, name_of(e.position),
                           e.condition, e.sensor, e.unit, number(e.scale), e.start, e.comment,
                           number(e.mounting_percent), number(e.position_percent));
        for (const ChannelMapping& m : e.channels) out += fmt::format("  {}={}\n", m.channel, name_of(m.axis));
        for (const ExcludedSpan& x : e.excluded) out += fmt::format("  not {}..{} {}\n", x.from_s, x.to_s, x.reason);
        for (const EventSpan& x : e.events) out += fmt::format("  event {}..{} {}\n", x.from_s, x.to_s, x.title);
    }
    for (const Exposure& e : s.exposures) {
        out += fmt::format("exposure {}|{}\n", e.person, e.day);
        for (const Task& t : e.tasks)
            out +=
                fmt::format("  {}|{}|{}|{}\n", t.space, t.position ? name_of(*t.position) : "-", t.condition, t.hours);
    }
    for (const Judge& e : s.judges) {
        out += "judge";
        for (const std::string& id : e.criteria) out += " " + id;
        for (const std::string& use : e.uses) out += " for " + use;
        out += "\n";
    }
    return out;
}

class Folder {
public:
    Folder()
        : path_(fs::temp_directory_path() /
                fmt::format("becalm-documents-{}-{}", ::getpid(),
                            ::testing::UnitTest::GetInstance()->current_test_info()->name()))
    {
        fs::remove_all(path_);
        fs::create_directories(path_);
    }
    ~Folder() { fs::remove_all(path_); }
    std::string file(const std::string& name, std::string_view text) const
    {
        fs::create_directories((path_ / name).parent_path());
        std::ofstream(path_ / name, std::ios::binary) << text;
        return (path_ / name).string();
    }
    std::string path(const std::string& name = {}) const { return (path_ / name).string(); }

private:
    fs::path path_;
};

const std::string data = BECALM_PROJECT "/data";

// --- surveys: reading ---

TEST(Survey, EveryKeyIsRead)
{
    const Results<Survey> read = parse_survey(whole_survey, "survey.toml");
    ASSERT_TRUE(read) << listed(read.error());
    EXPECT_EQ(content_of(*read), R"(Ferry "Invented"|vessel|nobody|a note|guarded
author: somebody
background: none
complaints: a rattle
deviations: none known
instruments: a recorder
mounting: with wax
object: a ferry
purpose: to know
3|5.5
sensor a1|triaxial|17|2026-03-01|C-1|2
|-||-|-|
condition service|at sea|day|16|12| shaft_rpm=105.5
source propeller|four blades|propeller| blades=4 rpm=105|4
plan deck-5|Deck 5|plans/ferry.PDF|3
space d5-201|Cabin 201|passenger-cabin|Deck 5|deck-5|0.31,1|7.5
recording rec/d5-201.wav|d5-201|bed|service|a1|mm/s2|-9.81|2026-05-02T10:12:00+01:00|windy|4|0
  1=x
  2=y
  3=z
  not 12..15 door slam
  not 20..21.5 steps
recording rec/bow.csv|d5-201|floor|||m/s2|-|||-|-
  1=z
judge iso6954-2000 for passenger-cabin
)");
    EXPECT_EQ(read->recordings[0].line, line_of(whole_survey, "[[recording]]"));
    EXPECT_EQ(read->path, "survey.toml");
    EXPECT_THAT(read->sha256, SizeIs(64));
}

// --- data sheets of transducers ---

// The order of the fields and their widths are from memory of IEEE 1451.4; the bytes are computed from them:
// 17 + 288 2^14 + 2 2^29 + 1 2^34 + 12345 2^40, the least byte first.
TEST(Teds, TheBasicSheetIsRead)
{
    for (const char* hex : {"11 00 48 40 04 39 30 00", "1100484004393000",
                            "0x11 0x00 0x48 0x40 0x04 0x39 0x30 0x00 00 FF", "11:00:48:40:04:39:30:00"}) {
        const auto teds = io::basic_teds(hex);
        ASSERT_TRUE(teds) << hex << ": " << to_text(teds.error());
        EXPECT_EQ(teds->manufacturer, 17);
        EXPECT_EQ(teds->model, 288);
        EXPECT_EQ(teds->version_letter, 'B');
        EXPECT_EQ(teds->version, 1);
        EXPECT_EQ(teds->serial, 12345);
        const auto facts = io::facts_from_teds(hex);
        ASSERT_TRUE(facts);
        EXPECT_EQ(facts->sensor, "manufacturer 17, model 288 B1");
        EXPECT_EQ(facts->serial, "12345");
    }
}

TEST(Teds, WhatIsNoSheetIsRefused)
{
    for (const auto& [hex, why] :
         std::vector<std::pair<std::string, std::string>>{{"", "has 0 bytes"},
                                                          {"11 00 48 40 04 39 30", "has 7 bytes"},
                                                          {"11 00 48 40 04 39 30 0", "half a byte"},
                                                          {"1 100 48 40 04 39 30 00", "half a byte"},
                                                          {"11 00 48 40 04 39 30 0g", "is not hexadecimal text"},
                                                          {"00 00 00 00 00 00 00 00", "is empty"},
                                                          {"FF FF FF FF FF FF FF FF 12", "is empty"}}) {
        const auto teds = io::basic_teds(hex);
        ASSERT_FALSE(teds) << hex;
        EXPECT_THAT(teds.error().what, HasSubstr(why));
        EXPECT_FALSE(io::facts_from_teds(hex));
    }
}

// --- surveys: reading, on ---

TEST(Survey, TheHistoryOfASensorIsRead)
{
    const std::string history = R"(model = "T-3"
sensitivity = 10.5
sensitivity_unit = "mV/g"
calibration_valid_months = 24
noise_m_s2 = 0.0004
teds = "a1.ted"
calibrations = [
    { date = 2026-03-01, sensitivity = 10.5 },
    { date = 2024-03-01, sensitivity = 10.25, uncertainty_percent = 1.5, certificate = "C-0" },
]
)";
    const std::string check = R"(
[[calibration_check]]
file = "rec/shaker.wav"
sensor = "a1"
channel = 3
when = "after"
unit = "g"
scale = 2.5
amplitude = 9.5
hz = 80
tolerance_percent = 2.0
)";
    const std::string text = replaced(whole_survey, "title = \"triaxial\"\n", history + "title = \"triaxial\"\n");
    const Results<Survey> read = parse_survey(text + check, "survey.toml");
    ASSERT_TRUE(read) << listed(read.error());
    EXPECT_THAT(content_of(*read), HasSubstr(R"(sensor a1|triaxial|17|2026-03-01|C-1|2
T-3|10.5|mV/g|24|0.0004|a1.ted
calibration 2024-03-01|10.25|1.5|C-0
calibration 2026-03-01|10.5|-|
check rec/shaker.wav|a1|3|after|g|2.5|9.5|80|2
)"));
    const auto complains = [&](const std::string& what, const std::string& with, const std::string& why) {
        const Results<Survey> bad = parse_survey(replaced(text + check, what, with), "survey.toml");
        ASSERT_FALSE(bad) << with;
        EXPECT_THAT(listed(bad.error()), HasSubstr(why));
    };
    complains("2024-03-01", "2026-03-01", "there is a calibration of 2026-03-01 already");
    complains("when = \"after\"", "when = \"during\"", "calibration_check[0].when");
    complains("unit = \"g\"", "unit = \"mm/s\"", "mm/s is no acceleration");
    complains("scale = 2.5", "scale = 0", "calibration_check[0].scale is 0");
}

TEST(Sensitivity, IsReadAsPeopleWriteIt)
{
    // Volts for one of the unit, from the prefixes of the SI.
    struct Row {
        const char* text;
        double volts;
        const char* unit;
    };
    for (const Row& row : {Row{"10.2 mV/(m/s2)", 0.0102, "m/s2"},
                           {"10,2 mV/(m/s²)", 0.0102, "m/s2"},
                           {"100 mV/g", 0.1, "g"},
                           {"1,02e-2 V/ms-2", 0.0102, "m/s2"},
                           {"28,8V/(m/s)", 28.8, "m/s"},
                           {"8 µV/um", 8e-6, "um"},
                           {"1000 mV / (m/s^2)", 1.0, "m/s2"},
                           {"2 V/m/s/s", 2.0, "m/s2"}}) {
        const auto read = sensitivity_in(row.text);
        ASSERT_TRUE(read) << row.text << ": " << to_text(read.error());
        EXPECT_NEAR(read->volts, row.volts, 1e-15 + 1e-12 * row.volts) << row.text;
        EXPECT_EQ(read->unit, row.unit);
    }
    for (const auto& [text, why] : {std::pair("", "no number"),
                                    {"mV/g", "no number"},
                                    {"-10 mV/g", "no number"},
                                    {"0 mV/g", "no number"},
                                    {"10.2", "no voltage"},
                                    {"3.1 pC/(m/s2)", "no voltage"},
                                    {"10 mV/", "nothing is none of"},
                                    {"10 mV/Pa", "Pa is none of m/s2"},
                                    {"1e999 V/g", "no number"},
                                    {"10.2.3 mV/g", "no voltage"}}) {
        const auto read = sensitivity_in(text);
        ASSERT_FALSE(read) << text;
        EXPECT_THAT(read.error().what, HasSubstr(why)) << text;
    }
}

TEST(Survey, ASensitivityMakesUnitAndScale)
{
    // 0.5 V for a stored 1, over 10.2 mV/(m/s2): 49.0196 m/s2. Computed from the definition.
    const std::string volts =
        replaced(whole_survey, "unit = \"mm/s2\"\nscale = -9.81", "sensitivity = \"10,2 mV/(m/s²)\"\nscale = 0.5");
    const Results<Survey> read = parse_survey(volts, "survey.toml");
    ASSERT_TRUE(read) << listed(read.error());
    const Recording& recording = read->recordings[0];
    EXPECT_EQ(recording.unit, "m/s2");
    EXPECT_NEAR(recording.scale.value_or(0.0), 0.5 / 0.0102, 1e-9);
    EXPECT_EQ(recording.scale_v, 0.5);
    // It is written as it was.
    const std::string written = entry_as_toml(recording);
    EXPECT_THAT(written, HasSubstr("scale = 0.5\nsensitivity = \"10,2 mV/(m/s²)\"\n"));
    EXPECT_THAT(written, ::testing::Not(HasSubstr("unit =")));
    const auto complains = [&](const std::string& what, const std::string& with, const std::string& why) {
        const Results<Survey> bad = parse_survey(replaced(volts, what, with), "survey.toml");
        ASSERT_FALSE(bad) << with;
        EXPECT_THAT(listed(bad.error()), HasSubstr(why));
    };
    complains("scale = 0.5", "unit = \"g\"", "unit stands beside a sensitivity");
    complains("10,2 mV/(m/s²)", "10,2 pC/(m/s²)", "no voltage stands behind the number");
}

TEST(Survey, DatesMayBeStrings)
{
    std::string text = replaced(whole_survey, "2026-03-01", "\"2026-03-01\"");
    text = replaced(text, "2026-05-02T10:12:00+01:00", "\"2026-05-02 10:12:00.250Z\"");
    const Results<Survey> read = parse_survey(text, "survey.toml");
    ASSERT_TRUE(read) << listed(read.error());
    EXPECT_EQ(read->sensors[0].calibrated, "2026-03-01");
    EXPECT_EQ(read->recordings[0].start, "2026-05-02T10:12:00.25Z");
}

TEST(Survey, OneWithoutRecordingsIsAllowed)
{
    EXPECT_TRUE(parse_survey("title = \"\"\nsetting = \"lift\"\n", "survey.toml"));
}

struct Fault {
    std::string what;    // text of whole_survey that is changed
    std::string with;    // to this
    std::string at;      // the fault stands in the line where this text stands, after the change
    std::string key;     // dotted key
    std::string message; // part of the message
};

class SurveyFaults : public ::testing::TestWithParam<Fault> {};

TEST_P(SurveyFaults, IsReportedWithLineColumnAndKey)
{
    const Fault& fault = GetParam();
    const std::string text = replaced(whole_survey, fault.what, fault.with);
    const std::vector<Problem> problems = faults_of(text);
    ASSERT_THAT(problems, SizeIs(1)) << listed(problems);
    EXPECT_EQ(problems[0].kind, ProblemKind::bad_input);
    EXPECT_EQ(problems[0].file, "survey.toml");
    EXPECT_EQ(problems[0].line, line_of(text, fault.at)) << listed(problems);
    EXPECT_GT(problems[0].column, 0);
    EXPECT_EQ(problems[0].key, fault.key);
    EXPECT_THAT(to_text(problems[0]), HasSubstr(fault.message));
    EXPECT_FALSE(problems[0].remedy.empty());
}

INSTANTIATE_TEST_SUITE_P(
    Each, SurveyFaults,
    ::testing::Values(
        // unknown keys, with the nearest known
        Fault{"client =", "cleint =", "cleint", "cleint", "did you mean \"client\"?"},
        Fault{"serial =", "seriel =", "seriel", "sensor[0].seriel", "did you mean \"serial\"?"},
        Fault{"shaft_rpm =", "shaft_rmp =", "shaft_rmp", "condition[0].shaft_rmp", "did you mean \"shaft_rpm\"?"},
        Fault{"blades =", "blade =", "blade =", "source[0].blade", "did you mean \"blades\"?"},
        Fault{"reference_channel = 4", "reference_channel = 0", "reference_channel", "source[0].reference_channel",
              "source[0].reference_channel is not a channel number"},
        Fault{"reference_channel = 4", "reference_channel = 2.5", "reference_channel", "source[0].reference_channel",
              "write a whole number: channels are numbered 1, 2, 3, ..."},
        Fault{"reference_channel = 4", "reference_channel = \"4\"", "reference_channel", "source[0].reference_channel",
              "source[0].reference_channel is not a channel number"},
        Fault{"group =", "deck_of_the_vessel =", "deck_of", "space[0].deck_of_the_vessel", "known here: id, label"},
        Fault{"exclude = [", "excludes = [", "excludes", "recording[0].excludes", "did you mean \"exclude\"?"},
        Fault{"reason = \"steps\"", "reason = \"steps\", form_s = 1", "steps", "recording[0].exclude[1].form_s",
              "did you mean \"from_s\"?"},
        Fault{"uses =", "use =", "use = [", "judge[0].use", "did you mean \"uses\"?"},
        // wrong types
        Fault{"title = \"triaxial\"", "title = 3", "title = 3", "sensor[0].title", "sensor[0].title is a number"},
        Fault{"scale = -9.81", "scale = \"9.81\"", "scale", "recording[0].scale", "is a string; give a number"},
        Fault{"uses = [\"passenger-cabin\"]", "uses = \"all\"", "uses", "judge[0].uses", "give a list of strings"},
        Fault{"uses = [\"passenger-cabin\"]", "uses = [true]", "uses", "judge[0].uses[0]", "is true or false"},
        Fault{"channels = { 1 = \"z\" }", "channels = 3", "channels = 3", "recording[1].channels", "names no channel"},
        Fault{"{ from_s = 20, to_s = 21.5, reason = \"steps\" }", "7", "  7\n]", "recording[0].exclude[1]",
              "give a table in braces"},
        Fault{"calibrated = 2026-03-01", "calibrated = \"March\"", "calibrated", "sensor[0].calibrated", "not a date"},
        Fault{"10:12:00+01:00", "10:12:00", "start", "recording[0].start", "offset from UTC"},
        // missing
        Fault{"title = \"Ferry \\\"Invented\\\"\"", "", "# head", "title", "title is missing; add title"},
        Fault{"setting = \"vessel\"", "", "# head", "setting", "setting is missing"},
        Fault{"kind = \"propeller\"\n", "", "[[source]]", "source[0].kind", "source[0].kind is missing"},
        Fault{"use = \"passenger-cabin\"\n", "", "[[space]]", "space[0].use", "space[0].use is missing"},
        Fault{"file = \"rec/d5-201.wav\" # the cabin\n", "", "[[recording]]", "recording[0].file", "file is missing"},
        Fault{"space = \"d5-201\"\nposition", "position", "[[recording]]", "recording[0].space", "space is missing"},
        Fault{"channels = { 1 = \"z\" }\n", "", "[[recording]]\nfile = \"rec/bow", "recording[1].channels",
              "channels is missing; add channels = { 1"},
        Fault{"criteria = [\"iso6954-2000\"]\n", "", "[[judge]]", "judge[0].criteria", "criteria is missing"},
        Fault{", reason = \"steps\"", "", "from_s = 20", "recording[0].exclude[1].reason", "reason is missing"},
        Fault{"reason = \"steps\"", "reason = \"\"", "from_s = 20", "recording[0].exclude[1].reason",
              "reason is empty"},
        Fault{"id = \"propeller\"", "id = \"\"", "id = \"\"", "source[0].id", "id is empty"},
        Fault{"criteria = [\"iso6954-2000\"]", "criteria = []", "criteria", "judge[0].criteria", "is empty"},
        // duplicate ids
        Fault{"[[space]]", "[[space]]\nid = \"d5-201\"\nuse = \"any\"\n[[space]]", "id = \"d5-201\"\nlabel",
              "space[1].id", "stands in line 48 already"},
        Fault{"[[sensor]]", "[[sensor]]\nid = \"a1\"\n[[sensor]]", "id = \"a1\"\ntitle", "sensor[1].id",
              "stands in line 18 already"},
        // references
        Fault{"space = \"d5-201\"\nposition", "space = \"d5-210\"\nposition", "d5-210", "recording[0].space",
              "did you mean \"d5-201\"?"},
        Fault{"condition = \"service\"", "condition = \"harbour\"", "harbour", "recording[0].condition",
              "no [[condition]] with the id \"harbour\"; known here: service"},
        Fault{"sensor = \"a1\"", "sensor = \"b\"", "sensor = \"b\"", "recording[0].sensor", "no [[sensor]]"},
        Fault{"plan = \"deck-5\"", "plan = \"deck-6\"", "deck-6", "space[0].plan",
              "no [[plan]] with the id \"deck-6\"; did you mean \"deck-5\"?"},
        // plans and places on them
        Fault{"file = \"plans/ferry.PDF\"\n", "", "[[plan]]", "plan[0].file", "file is missing"},
        Fault{"ferry.PDF\"\npage = 3", "ferry.bmp\"", "ferry.bmp", "plan[0].file", "is no PNG, JPEG, SVG or PDF"},
        Fault{"ferry.PDF", "ferry.svg", "page = 3", "plan[0].page", "is a picture without pages"},
        Fault{"page = 3", "page = 0", "page = 0", "plan[0].page", "a page number, from 1"},
        Fault{"page = 3", "page = 1.5", "page = 1.5", "plan[0].page", "pages are counted 1, 2, 3"},
        Fault{"[[plan]]", "[[plan]]\nid = \"deck-5\"\nfile = \"a.png\"\n[[plan]]", "id = \"deck-5\"\ntitle",
              "plan[1].id", "stands in line 42 already"},
        Fault{"plan = \"deck-5\"\n", "", "place = ", "space[0].place", "lies on no plan; add plan = "},
        Fault{"[0.31, 1]", "[0.31, 1.01]", "place = ", "space[0].place", "must be 0 to 1"},
        Fault{"[0.31, 1]", "[-0.01, 1]", "place = ", "space[0].place", "must be 0 to 1"},
        Fault{"[0.31, 1]", "[nan, 1]", "place = ", "space[0].place", "must be 0 to 1"},
        Fault{"[0.31, 1]", "[0.31]", "place = ", "space[0].place", "not a list of two numbers"},
        Fault{"[0.31, 1]", "[0.31, \"1\"]", "place = ", "space[0].place", "not a list of two numbers"},
        Fault{"[0.31, 1]", "0.31", "place = ", "space[0].place", "not a list of two numbers"},
        // names
        Fault{"setting = \"vessel\"", "setting = \"vesel\"", "vesel", "setting", "did you mean \"vessel\"?"},
        Fault{"position = \"bed\"", "position = \"seat\"", "seat", "recording[0].position", "known here: floor"},
        Fault{"unit = \"mm/s2\"", "unit = \"mm/s^2\"", "mm/s^2", "recording[0].unit", "did you mean \"mm/s2\"?"},
        Fault{"period = \"day\"", "period = \"days\"", "days", "condition[0].period", "did you mean \"day\"?"},
        Fault{"kind = \"propeller\"", "kind = \"propellor\"", "propellor", "source[0].kind",
              "did you mean \"propeller\"?"},
        // channels
        Fault{"2 = \"y\"", "2 = \"w\"", "channels", "recording[0].channels.2", "cannot be \"w\""},
        Fault{"2 = \"y\"", "2 = \"z\"", "channels", "recording[0].channels.3",
              "duplicate channel mapping: recording[0].channels.3 gives the axis z, which channel 2 has already"},
        Fault{"2 = \"y\"", "0 = \"y\"", "channels", "recording[0].channels.0", "is not a channel number"},
        Fault{"2 = \"y\"", "-1 = \"y\"", "channels", "recording[0].channels.-1", "is not a channel number"},
        Fault{"2 = \"y\"", "02 = \"y\"", "channels", "recording[0].channels.02", "is not a channel number"},
        Fault{"2 = \"y\"", "99999999999 = \"y\"", "channels", "recording[0].channels.99999999999",
              "is not a channel number"},
        Fault{"channels = { 1 = \"z\" }", "channels = {}", "channels = {}", "recording[1].channels",
              "names no channel"},
        Fault{"[[judge]]",
              "[[recording]]\nfile = \"rec/bow.csv\"\nspace = \"d5-201\"\nchannels = { 4 = \"z\" }\n[[judge]]",
              "4 = \"z\"", "recording[2].channels.4", "repeats the axis z of \"rec/bow.csv\""},
        // numbers
        Fault{"scale = -9.81", "scale = 0.0", "scale", "recording[0].scale", "is 0"},
        Fault{"scale = -9.81", "scale = nan", "scale", "recording[0].scale", "must be a finite number"},
        Fault{"exposure_h = 16", "exposure_h = 24.5", "exposure_h", "condition[0].exposure_h", "at most 24"},
        Fault{"events = 12", "events = 0", "events", "condition[0].events", "above 0"},
        Fault{"shaft_rpm = 105.5", "shaft_rpm = inf", "shaft_rpm", "condition[0].shaft_rpm", "finite"},
        Fault{"uncertainty_percent = 2.0", "uncertainty_percent = 100", "uncertainty", "sensor[0].uncertainty_percent",
              "below 100"},
        Fault{"mounting_percent = 3", "mounting_percent = 100", "mounting_percent", "mounting_percent", "below 100"},
        Fault{"mounting_percent = 4", "mounting_percent = -4", "mounting_percent = -4", "recording[0].mounting_percent",
              "0 or more"},
        Fault{"mounting_percent = 4", "mountin_percent = 4", "mountin_percent", "recording[0].mountin_percent",
              "mounting_percent"},
        Fault{"position_percent = 7.5", "mounting_percent = 7.5", "mounting_percent = 7.5", "space[0].mounting_percent",
              "unknown"},
        Fault{"decision_rule = \"guarded\"", "decision_rule = \"guared\"", "decision_rule", "decision_rule", "guarded"},
        Fault{"uncertainty_percent = 2.0", "uncertainty_percent = -1", "uncertainty", "sensor[0].uncertainty_percent",
              "0 or more"},
        Fault{"from_s = 20", "from_s = -0.5", "from_s = -0.5", "recording[0].exclude[1].from_s", "0 or more"},
        Fault{"to_s = 21.5", "to_s = 20", "to_s = 20", "recording[0].exclude[1].to_s", "not after from_s"},
        // not TOML at all
        Fault{"client = \"nobody\"", "client = nobody", "client = nobody", "", "not TOML"},
        Fault{"client = \"nobody\"", "title = \"again\"", "title = \"again\"", "", "not TOML"},
        Fault{"client = \"nobody\"",
              "client = \"no\x0e"
              "body\"",
              "client", "", "control character 0x0E"},
        Fault{"client = \"nobody\"", "client = \"\xff\"", "client", "", "not TOML"}));

TEST(Survey, EveryFaultIsReportedInOneReading)
{
    std::string text = replaced(whole_survey, "setting = \"vessel\"", "setting = \"boat\"");
    text = replaced(text, "scale = -9.81", "scale = 0");
    text = replaced(text, "period = \"day\"", "perod = \"day\"");
    const std::vector<Problem> problems = faults_of(text);
    ASSERT_THAT(problems, SizeIs(3)) << listed(problems);
    EXPECT_EQ(problems[0].key, "setting");
    EXPECT_EQ(problems[1].key, "condition[0].perod");
    EXPECT_EQ(problems[2].key, "recording[0].scale");
    EXPECT_EQ(problems[2].column, 9); // of the value, counted in the text above
}

TEST(Survey, NoTextMakesTheReaderFallOver)
{
    // Nested deeper than any stack would bear, and the two bytes that trip an assertion of the TOML library.
    std::string dotted = "a";
    for (int i = 0; i < 100000; ++i) dotted += ".a";
    EXPECT_THAT(faults_of(dotted + " = 1\n"), SizeIs(1));
    EXPECT_THAT(faults_of("[" + dotted + "]\n"), SizeIs(1));
    EXPECT_THAT(faults_of("a = " + std::string(100000, '[')), SizeIs(1));
    EXPECT_THAT(faults_of("\x5b\x0e"), SizeIs(1));
    EXPECT_THAT(faults_of(std::string("\0", 1)), SizeIs(1));
    EXPECT_THAT(faults_of(""), SizeIs(2)); // title and setting are missing
}

RC_GTEST_PROP(SurveyProperty, RandomBytesInASurveyNeverThrow, ())
{
    std::string text = whole_survey;
    const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
    const auto length = *rc::gen::inRange<std::size_t>(0, 12);
    text.replace(at, std::min(length, text.size() - at), *rc::gen::arbitrary<std::string>());
    for (const Problem& problem : faults_of(text)) {
        RC_ASSERT(problem.line >= 1);
        RC_ASSERT(!problem.what.empty());
        RC_ASSERT(to_text(problem).find('\n') == std::string::npos); // one problem a line
    }
}

TEST(Survey, AFileThatIsNotThereIsAProblemOfTheOutsideWorld)
{
    const Results<Survey> read = read_survey("/nonexistent/survey.toml");
    ASSERT_FALSE(read);
    EXPECT_EQ(read.error().at(0).kind, ProblemKind::outside_world);
}

// --- surveys: writing ---

rc::Gen<std::string> any_text()
{
    return rc::gen::container<std::string>(rc::gen::weightedOneOf<char>(
        {{8, rc::gen::inRange<char>(' ', '~')}, {1, rc::gen::elementOf(std::string("\"\\\n\t\r\x01\x7f"))}}));
}

rc::Gen<double> any_number(double from, double to)
{
    return rc::gen::map(rc::gen::inRange<std::int64_t>(0, 1000001),
                        [=](std::int64_t n) { return from + (to - from) * static_cast<double>(n) / 1e6; });
}

// Surveys of every shape that the reader accepts.
Survey any_survey()
{
    const auto text = [] { return *any_text(); };
    const auto some = [] { return *rc::gen::inRange(0, 4); };
    const auto maybe = [](double from, double to) {
        return *rc::gen::arbitrary<bool>() ? std::optional(*any_number(from, to)) : std::nullopt;
    };
    Survey survey;
    survey.title = text();
    survey.setting = *rc::gen::elementOf(all_settings);
    survey.client = text();
    for (const std::string_view key : keys::survey_statements)
        if (const std::string statement = text(); !statement.empty()) survey.statements.emplace(key, statement);
    survey.note = text();
    for (int i = some(); i > 0; --i)
        survey.sensors.push_back({.id = "s" + std::to_string(i) + text(),
                                  .title = text(),
                                  .model = text(),
                                  .serial = text(),
                                  .sensitivity = maybe(0.1, 99.9),
                                  .calibrated = i == 1 ? "2025-12-31" : "",
                                  .certificate = text(),
                                  .uncertainty_percent = maybe(0, 99.9),
                                  .calibrations = {{.date = "2024-05-01", .sensitivity = 9.5, .certificate = "c"},
                                                   {.date = "2025-05-01", .uncertainty_percent = 1.5}}});
    for (int i = some(); i > 0; --i)
        survey.conditions.push_back({"c" + std::to_string(i) + text(),
                                     text(),
                                     {{"sea_state", *any_number(0, 9)}},
                                     i == 1 ? "night" : "",
                                     maybe(0.1, 24),
                                     maybe(1, 1e9)});
    for (int i = some(); i > 0; --i)
        survey.sources.push_back({"m" + std::to_string(i),
                                  text(),
                                  "engine",
                                  {{"rpm", *any_number(-1e-9, 1e9)}},
                                  i == 1 ? std::optional(4) : std::nullopt});
    for (int i = some(); i > 0; --i)
        survey.plans.push_back(
            {"l" + std::to_string(i) + text(), text(), text() + (i == 1 ? ".pdf" : ".svg"), i == 1 ? 7 : 1});
    for (int i = 1 + some(); i > 0; --i) {
        Space space{"p" + std::to_string(i) + text(), text(), "office", text()};
        if (!survey.plans.empty()) {
            space.plan = (*rc::gen::elementOf(survey.plans)).id;
            if (i != 1) space.place = PlanPlace{*any_number(0, 1), *any_number(0, 1)};
        }
        survey.spaces.push_back(std::move(space));
    }
    for (int i = some(); i > 0; --i) {
        Recording recording;
        recording.file = "f" + std::to_string(i) + text();
        recording.space = (*rc::gen::elementOf(survey.spaces)).id;
        recording.position = *rc::gen::elementOf(all_positions);
        if (!survey.conditions.empty()) recording.condition = (*rc::gen::elementOf(survey.conditions)).id;
        if (!survey.sensors.empty()) recording.sensor = (*rc::gen::elementOf(survey.sensors)).id;
        const Unit unit = *rc::gen::elementOf(units);
        recording.unit = std::string(unit.name);
        recording.channels = {{1, unit.rotates ? Axis::rz : Axis::z},
                              {*rc::gen::inRange(2, 99), unit.rotates ? Axis::rx : Axis::x}};
        recording.scale = maybe(1e-12, 1e6);
        if (i == 1) recording.start = "2026-01-02T03:04:05.5-09:30";
        for (int k = some(); k > 0; --k) {
            const double from = *any_number(0, 1e5);
            recording.excluded.push_back({from, from + *any_number(0.001, 100), "r" + text()});
        }
        double begin = 0.0;
        for (int k = some(); k > 0; --k) {
            begin += *any_number(0, 100);
            const double end = begin + *any_number(0.001, 100);
            recording.events.push_back({begin, end, text()});
            begin = end;
        }
        recording.comment = text();
        survey.recordings.push_back(std::move(recording));
    }
    for (int i = some(); i > 0; --i) {
        Exposure exposure{.person = "w" + text(), .day = "d" + std::to_string(i)};
        for (int k = some(); k > 0; --k)
            exposure.tasks.push_back(
                {.space = (*rc::gen::elementOf(survey.spaces)).id,
                 .position = k == 1 ? std::optional(*rc::gen::elementOf(all_positions)) : std::nullopt,
                 .condition = survey.conditions.empty() ? "" : (*rc::gen::elementOf(survey.conditions)).id,
                 .hours = *any_number(0.001, 6)});
        survey.exposures.push_back(std::move(exposure));
    }
    for (int i = some(); i > 0; --i)
        survey.judges.push_back(
            {{"k" + text(), "l"}, i == 1 ? std::vector<std::string>{} : std::vector<std::string>{"office"}});
    return survey;
}

RC_GTEST_PROP(SurveyProperty, WrittenSurveysReadBackTheSame, ())
{
    const Survey survey = any_survey();
    const std::string text = survey_as_toml(survey);
    const Results<Survey> read = parse_survey(text, "survey.toml");
    if (!read) RC_FAIL(listed(read.error()) + text);
    RC_ASSERT(content_of(*read) == content_of(survey));
    RC_ASSERT(survey_as_toml(*read) == text);
}

TEST(Survey, AnEmptyOneShowsHowToGoOn)
{
    const std::string text = survey_as_toml({});
    ASSERT_TRUE(parse_survey(text, "survey.toml"));
    for (const auto* table : {"#[[sensor]]", "#[[condition]]", "#[[source]]", "#[[plan]]", "#[[space]]",
                              "#[[recording]]", "#[[exposure]]", "#[[judge]]"})
        EXPECT_THAT(text, HasSubstr(table));
    // The examples are right, too: without the # they read as a survey.
    std::string examples;
    for (const std::string& line : lines_of(text))
        examples += (line.starts_with("#") && !line.starts_with("# ") ? line.substr(1) : line) + "\n";
    const Results<Survey> read = parse_survey(examples, "survey.toml");
    ASSERT_TRUE(read) << listed(read.error());
    EXPECT_THAT(read->recordings, SizeIs(1));
}

TEST(Survey, WhatCannotBeWrittenBecomesACommentOrAReplacementCharacter)
{
    Survey survey;
    survey.title = "bad \xff byte";
    survey.spaces = {{.id = "p", .use = "office"}};
    survey.sensors = {{.id = "s", .calibrated = "last spring"}};
    Recording recording;
    recording.file = "a.wav";
    recording.space = "p";
    recording.channels = {{1, Axis::z}};
    recording.start = "2026-05-02 10:12:00"; // local time as a recorder notes it
    survey.recordings = {recording};
    const std::string text = survey_as_toml(survey);
    EXPECT_THAT(text, HasSubstr("# start = \"2026-05-02 10:12:00\" # add the offset"));
    EXPECT_THAT(text, HasSubstr("# calibrated = \"last spring\""));
    const Results<Survey> read = parse_survey(text, "survey.toml");
    ASSERT_TRUE(read) << listed(read.error());
    EXPECT_EQ(read->title, "bad \xef\xbf\xbd byte");
}

// --- surveys: patching ---

// Lines of `before` that are not in `after` any more, in order.
std::vector<std::string> lost_lines(const std::string& before, const std::string& after)
{
    const std::vector<std::string> old_lines = lines_of(before);
    const std::vector<std::string> new_lines = lines_of(after);
    std::vector<std::string> lost;
    auto from = new_lines.begin();
    for (const std::string& line : old_lines) {
        const auto found = std::find(from, new_lines.end(), line);
        if (found == new_lines.end())
            lost.push_back(line);
        else
            from = std::next(found);
    }
    return lost;
}

// Layouts a person might give the exclusions of "a.wav"; %s stands for two, one or no exclusions.
struct Layout {
    const char* name;
    std::string text;
    std::size_t exclusions;
};

const std::string head = "title = \"t\" # t\nsetting = \"rail\"\n\n[[space]]\nid = \"p\"\nuse = \"any\"\n\n";
const std::string foot =
    "\n[[recording]] # the other\nfile = \"b.wav\"\nspace = \"p\"\nchannels = { 1 = \"z\" } # z\n# end\n";
const std::string top = "[[recording]]   # this one\n  file = \"a.wav\"   # \xc3\xa9 comment\n  space = \"p\"\n";
const std::string one = "{ from_s = 1.0, to_s = 2.0, reason = \"one, ] # {\" }";
const std::string two = "{ reason = 'two', from_s = 3, to_s = 4 }";

const std::vector<Layout> layouts{
    {"none", top + "  channels = { 1 = \"z\" } # z\n", 0},
    {"none, channels as a table", top + "  [recording.channels]\n  1 = \"z\"\n", 0},
    {"none, dotted channels", top + "  channels.1 = \"z\"\n  channels.2 = \"x\" # x\n", 0},
    {"none, comment of several lines", top + "  channels = { 1 = \"z\" }\n  comment = \"\"\"\none\n\ntwo\"\"\" # end\n",
     0},
    {"empty", top + "  channels = { 1 = \"z\" }\n  exclude = [] # none yet\n", 0},
    {"empty with a comment inside", top + "  channels = { 1 = \"z\" }\n  exclude = [ # none\n  ]\n", 0},
    {"one in a line", top + "  exclude = [ " + one + " ]\n  channels = { 1 = \"z\" }\n", 1},
    {"one in a line, comma, comment", top + "  exclude = [" + one + ",] # why\n  channels = { 1 = \"z\" }\n", 1},
    {"two in a line", top + "  exclude = [" + one + "," + two + "]\n  channels = { 1 = \"z\" }\n", 2},
    {"lines with commas",
     top + "  exclude = [\n    " + one + ", # first\n    " + two + ", # second\n  ]\n  channels = { 1 = \"z\" }\n", 2},
    {"lines without the last comma",
     top + "  exclude = [\n    " + one + ", # first\n    " + two + " # second\n  ]\n  channels = { 1 = \"z\" }\n", 2},
    {"lines without comments",
     top + "  exclude = [\n    " + one + ",\n    " + two + "\n  ]\n  channels = { 1 = \"z\" }\n", 2},
    {"bracket on the last line",
     top + "  exclude = [ " + one + ", # first\n              " + two + " ]\n  channels = { 1 = \"z\" }\n", 2},
    {"commas in front",
     top + "  exclude = [\n    " + one + " # first\n  , " + two + " # second\n  ]\n  channels = { 1 = \"z\" }\n", 2},
    {"tables",
     top + "  channels = { 1 = \"z\" }\n\n  [[recording.exclude]] # first\n  from_s = 1.0\n  to_s = 2.0\n  reason = "
           "\"one\"\n\n"
           "  [[recording.exclude]]\n  from_s = 3\n  to_s = 4\n  reason = 'two' # second\n",
     2},
};

struct Patching {
    const Layout* layout;
    std::string text;
};

Patching any_layout(std::size_t least_exclusions = 0)
{
    std::vector<const Layout*> fit;
    for (const Layout& layout : layouts)
        if (layout.exclusions >= least_exclusions) fit.push_back(&layout);
    // At its full size from the first case on, or the later layouts would hardly be drawn.
    const Layout& layout = *fit[*rc::gen::resize(rc::kNominalSize, rc::gen::inRange<std::size_t>(0, fit.size()))];
    std::string text = head + layout.text + foot;
    if (*rc::gen::arbitrary<bool>()) text = with_line_ends(text, "\r\n");
    if (*rc::gen::arbitrary<bool>()) text = "\xef\xbb\xbf" + text;
    return {&layout, text};
}

ExcludedSpan any_span()
{
    const double from = *any_number(0, 1e4);
    return {from, from + *any_number(0.001, 100), "r" + *any_text()};
}

RC_GTEST_PROP(SurveyPatch, AddingAnExclusionAddsItAndKeepsEveryOtherByte, ())
{
    const auto [layout, text] = any_layout();
    RC_TAG(std::string(layout->name));
    const ExcludedSpan span = any_span();
    const Result<std::string> patched = with_exclusion(text, "survey.toml", "a.wav", span);
    if (!patched) RC_FAIL(to_text(patched.error()));

    Results<Survey> before = parse_survey(text, "survey.toml");
    const Results<Survey> after = parse_survey(*patched, "survey.toml");
    if (!before || !after) RC_FAIL(*patched);
    before->recordings[0].excluded.push_back(span);
    RC_ASSERT(content_of(*after) == content_of(*before));

    // Every line is still there; one may have got the new element, or a comma after its own.
    const std::vector<std::string> lost = lost_lines(text, *patched);
    RC_ASSERT(lost.size() <= 1u);
    for (const std::string& line : lost)
        RC_ASSERT(line.find("exclude") != std::string::npos || line.find("two") != std::string::npos);
    RC_ASSERT((patched->find("\r\n") != std::string::npos) == (text.find("\r\n") != std::string::npos));
    RC_ASSERT(std::ranges::count(*patched, '\n') - std::ranges::count(*patched, '\r') ==
                  std::ranges::count(text, '\n') - std::ranges::count(text, '\r') ||
              text.find('\r') == std::string::npos); // no mixture of line ends

    // Taking it out again gives the first text back, to the byte (an empty list's line goes with its last element).
    const Result<std::string> back = without_exclusion(*patched, "survey.toml", "a.wav", layout->exclusions);
    if (!back) RC_FAIL(to_text(back.error()));
    if (layout->text.find("exclude = []") == std::string::npos &&
        layout->text.find("exclude = [ # none") == std::string::npos)
        RC_ASSERT(*back == text);
}

RC_GTEST_PROP(SurveyPatch, RemovingAnExclusionRemovesItAndKeepsEveryOtherByte, ())
{
    const auto [layout, text] = any_layout(1);
    RC_TAG(std::string(layout->name));
    const auto index = *rc::gen::inRange<std::size_t>(0, layout->exclusions);
    const Result<std::string> patched = without_exclusion(text, "survey.toml", "a.wav", index);
    if (!patched) RC_FAIL(to_text(patched.error()));

    Results<Survey> before = parse_survey(text, "survey.toml");
    const Results<Survey> after = parse_survey(*patched, "survey.toml");
    if (!before || !after) RC_FAIL(*patched);
    auto& excluded = before->recordings[0].excluded;
    excluded.erase(excluded.begin() + static_cast<std::ptrdiff_t>(index));
    RC_ASSERT(content_of(*after) == content_of(*before));
    for (const std::string& line : lost_lines(text, *patched))
        RC_ASSERT(line.find("one") != std::string::npos || line.find("two") != std::string::npos ||
                  line.find("[[recording.exclude]]") != std::string::npos || line.find("from_s") != std::string::npos ||
                  line.find("to_s") != std::string::npos || line == "" || line == "\r");
}

RC_GTEST_PROP(SurveyPatch, SettingAValueSetsItAndKeepsEveryOtherLine, ())
{
    const auto [layout, text] = any_layout();
    RC_TAG(std::string(layout->name));
    const auto index = *rc::gen::inRange<std::size_t>(0, 2);
    const double scale = *any_number(1e-6, 1e6);
    const bool replaces = *rc::gen::arbitrary<bool>();
    const std::string key = replaces ? "space" : "scale";
    const std::string value = replaces ? "\"q\"" : toml_number(scale);
    const std::string base = replaced(text, "[[space]]", "[[space]]\nid = \"q\"\nuse = \"any\"\n[[space]]");
    const Result<std::string> patched = with_value(base, "survey.toml", "recording", index, key, value);
    if (!patched) RC_FAIL(to_text(patched.error()));

    Results<Survey> before = parse_survey(base, "survey.toml");
    const Results<Survey> after = parse_survey(*patched, "survey.toml");
    if (!before || !after) RC_FAIL(*patched);
    if (replaces)
        before->recordings[index].space = "q";
    else
        before->recordings[index].scale = scale;
    RC_ASSERT(content_of(*after) == content_of(*before));
    RC_ASSERT(lost_lines(base, *patched).size() == (replaces ? 1u : 0u));
}

TEST(SurveyPatch, TheWholeSurveyKeepsItsComments)
{
    const Result<std::string> patched =
        with_exclusion(whole_survey, "survey.toml", "rec/d5-201.wav", {30.0, 31.0, "crane"});
    ASSERT_TRUE(patched) << to_text(patched.error());
    EXPECT_EQ(*patched, replaced(whole_survey, "reason = \"steps\" }\n",
                                 "reason = \"steps\" },\n  { from_s = 30.0, to_s = 31.0, reason = \"crane\" }\n"));
    const Result<std::string> fewer = without_exclusion(*patched, "survey.toml", "rec/d5-201.wav", 0);
    ASSERT_TRUE(fewer);
    EXPECT_THAT(*fewer, testing::Not(HasSubstr("door slam")));
    EXPECT_THAT(*fewer, HasSubstr("exclude = [\n  { from_s = 20, to_s = 21.5, reason = \"steps\" },\n"));
}

TEST(SurveyPatch, AFileOfTwoPlacesIsExcludedAtBoth)
{
    const std::string text = head + "recording = [\n { file = \"a\", space = \"p\", channels = { 1 = \"z\" } },\n"
                                    " { file = \"a\", space = \"p\", channels = { 2 = \"x\" }, scale = 2.0 }\n]\n";
    // An array cannot follow a [[table]]; it stands first.
    const std::string ordered = text.substr(text.find("recording = [")) + head.substr(head.find("[[space]]"));
    const std::string survey = "title = \"t\"\nsetting = \"rail\"\n" + ordered;
    const Result<std::string> patched = with_exclusion(survey, "survey.toml", "a", {1.0, 2.0, "gust"});
    ASSERT_TRUE(patched) << to_text(patched.error());
    const Results<Survey> read = parse_survey(*patched, "survey.toml");
    ASSERT_TRUE(read) << listed(read.error());
    for (const Recording& recording : read->recordings) EXPECT_THAT(recording.excluded, SizeIs(1));
    const Result<std::string> back = without_exclusion(*patched, "survey.toml", "a", 0);
    ASSERT_TRUE(back) << to_text(back.error());
    const Results<Survey> emptied = parse_survey(*back, "survey.toml");
    ASSERT_TRUE(emptied) << listed(emptied.error());
    for (const Recording& recording : emptied->recordings) EXPECT_THAT(recording.excluded, IsEmpty());
}

TEST(SurveyPatch, WhatCannotBeDoneIsAProblem)
{
    const auto add = [&](const std::string& file, ExcludedSpan span) {
        return with_exclusion(whole_survey, "survey.toml", file, span);
    };
    EXPECT_FALSE(add("missing.wav", {1.0, 2.0, "r"}));
    EXPECT_FALSE(add("rec/bow.csv", {2.0, 1.0, "r"}));
    EXPECT_FALSE(add("rec/bow.csv", {-1.0, 1.0, "r"}));
    EXPECT_FALSE(add("rec/bow.csv", {1.0, 2.0, ""}));
    EXPECT_FALSE(without_exclusion(whole_survey, "survey.toml", "rec/bow.csv", 0));
    EXPECT_FALSE(without_exclusion(whole_survey, "survey.toml", "rec/d5-201.wav", 2));
    EXPECT_FALSE(with_value(whole_survey, "survey.toml", "recording", 2, "scale", "1.0"));
    EXPECT_FALSE(with_value(whole_survey, "survey.toml", "recordings", 0, "scale", "1.0"));
    EXPECT_FALSE(with_value(whole_survey, "survey.toml", "recording", 0, "scale", ""));
    EXPECT_FALSE(with_value(whole_survey, "survey.toml", "recording", 0, "scale", "1.0\nunit = \"g\""));
    EXPECT_FALSE(with_value(whole_survey, "survey.toml", "recording", 0, "scale", "1.0]"));
    EXPECT_FALSE(with_exclusion("not toml", "survey.toml", "a", {1.0, 2.0, "r"}));
    const std::string headed = head + layouts[1].text;
    EXPECT_FALSE(with_value(headed, "survey.toml", "recording", 0, "channels", "{ 1 = \"x\" }"));
}

// --- criteria ---

const Bibliography one_publication{{"example-2000", {"example-2000", "Example", "Example:2000", "invented", "", ""}}};

const std::string whole_criterion = R"(# head
id = "example"
title = "Example"
settings = ["building", "rail"]
source = "example-2000"
clause = "Table 1"
quantity = "vdv"
unit = "m/s^1.75"
axes = "highest"
weighting = { horizontal = "Wd", vertical = "Wb" }
factor = { x = 1.4, vertical = 1 }
needed = ["z"]
positions = ["floor", "bed"]
period = "night"
reference_h = 8.0
least_duration_s = 60
wished_duration_s = 120.0
confirmed = "from memory"
note = "a note"

[[scale]]
use = "office"
bands = [
  { name = "low", below = 0.2 },
  { name = "middle", from = 0.1, up_to = 0.4 },
  { name = "high", from = 0.3, exceeds = true },
]

[[scale]]
use = "any"
bands = [ { name = "everything" } ]
)";

TEST(CriterionFile, EveryKeyIsRead)
{
    const Results<Criterion> read = parse_criterion(whole_criterion, "folder/example.toml", one_publication);
    ASSERT_TRUE(read) << listed(read.error());
    EXPECT_EQ(read->id, "example");
    EXPECT_EQ(read->title, "Example");
    EXPECT_THAT(read->settings, ElementsAre(Setting::building, Setting::rail));
    EXPECT_EQ(read->source, "example-2000");
    EXPECT_EQ(read->edition, "Example:2000");
    EXPECT_EQ(read->clause, "Table 1");
    EXPECT_EQ(read->quantity, "vdv");
    EXPECT_EQ(read->unit, "m/s^1.75");
    EXPECT_EQ(read->rule, AxisRule::highest);
    ASSERT_THAT(read->terms, SizeIs(3));
    EXPECT_EQ(read->terms[0].weighting, WeightingId::Wd);
    EXPECT_EQ(read->terms[0].factor, 1.4);
    EXPECT_EQ(read->terms[1].axis, Axis::y);
    EXPECT_EQ(read->terms[1].factor, 1.0);
    EXPECT_EQ(read->terms[2].weighting, WeightingId::Wb);
    EXPECT_THAT(read->needed, ElementsAre(Axis::z));
    EXPECT_THAT(read->positions, ElementsAre(Position::floor, Position::bed));
    EXPECT_EQ(read->period, "night");
    EXPECT_EQ(read->reference_h, 8.0);
    EXPECT_EQ(read->least_duration_s, 60.0);
    EXPECT_EQ(read->wished_duration_s, 120.0);
    EXPECT_EQ(read->confirmed, "from memory");
    EXPECT_EQ(read->note, "a note");
    EXPECT_EQ(read->path, "folder/example.toml");
    EXPECT_THAT(read->sha256, SizeIs(64));
    ASSERT_THAT(read->scales, SizeIs(2));
    const std::vector<Band>& bands = read->scales[0].bands;
    ASSERT_THAT(bands, SizeIs(3));
    EXPECT_EQ(bands[0].limit, 0.2);
    EXPECT_FALSE(bands[0].inclusive);
    EXPECT_EQ(bands[1].limit, 0.4);
    EXPECT_TRUE(bands[1].inclusive);
    EXPECT_EQ(bands[1].from, 0.1);
    EXPECT_FALSE(bands[1].exceeds);
    EXPECT_EQ(bands[2].limit, std::nullopt);
    EXPECT_TRUE(bands[2].exceeds);
    EXPECT_EQ(read->scales[1].line, line_of(whole_criterion, "[[scale]]\nuse = \"any\""));
}

TEST(CriterionFile, OneWeightingSpeaksForEveryTranslation)
{
    const auto terms_of = [](std::string_view axes) {
        std::string text = replaced(whole_criterion, "{ horizontal = \"Wd\", vertical = \"Wb\" }", "\"Wm\"");
        text = replaced(text, "factor = { x = 1.4, vertical = 1 }", "factor = 0.5");
        text = replaced(text, "needed = [\"z\"]\n", "");
        text = replaced(text, "axes = \"highest\"", fmt::format("axes = \"{}\"", axes));
        const Results<Criterion> read = parse_criterion(text, "example.toml", one_publication);
        EXPECT_TRUE(read) << listed(read.error());
        EXPECT_EQ(read->needed.size(), axes == "each" ? 0 : read->terms.size()); // judged apart, none needs another
        for (const AxisTerm& term : read->terms) EXPECT_EQ(term.factor, 0.5);
        return read->terms.size();
    };
    EXPECT_EQ(terms_of("each"), 3u);
    EXPECT_EQ(terms_of("total"), 3u);
    EXPECT_EQ(terms_of("vertical"), 1u);
}

class CriterionFaults : public ::testing::TestWithParam<Fault> {};

TEST_P(CriterionFaults, IsReportedWithLineColumnAndKey)
{
    const Fault& fault = GetParam();
    const std::string text = replaced(whole_criterion, fault.what, fault.with);
    const Results<Criterion> read = parse_criterion(text, "example.toml", one_publication);
    ASSERT_FALSE(read);
    ASSERT_THAT(read.error(), SizeIs(1)) << listed(read.error());
    const Problem& problem = read.error()[0];
    EXPECT_EQ(problem.file, "example.toml");
    EXPECT_EQ(problem.line, line_of(text, fault.at)) << listed(read.error());
    EXPECT_GT(problem.column, 0);
    EXPECT_EQ(problem.key, fault.key);
    EXPECT_THAT(to_text(problem), HasSubstr(fault.message));
    EXPECT_FALSE(problem.remedy.empty());
}

INSTANTIATE_TEST_SUITE_P(
    Each, CriterionFaults,
    ::testing::Values(
        Fault{"clause =", "clauses =\"\"\nclause =", "clauses", "clauses", "did you mean \"clause\"?"},
        Fault{"use = \"office\"", "use = \"office\"\nband = 1", "band = 1", "scale[0].band", "did you mean \"bands\"?"},
        Fault{"below = 0.2", "below = 0.2, exceed = false", "exceed", "scale[0].bands[0].exceed", "did you mean"},
        Fault{"horizontal = \"Wd\"", "horizontal = \"Wd\", vertcal = \"Wd\"", "vertcal", "weighting.vertcal",
              "did you mean \"vertical\"?"},
        Fault{"id = \"example\"\n", "", "# head", "id", "id is missing; add id = \"example\""},
        Fault{"title = \"Example\"\n", "", "# head", "title", "title is missing"},
        Fault{"source = \"example-2000\"\n", "", "# head", "source", "source is missing"},
        Fault{"clause = \"Table 1\"\n", "", "# head", "clause", "clause is missing"},
        Fault{"quantity = \"vdv\"\n", "", "# head", "quantity", "quantity is missing"},
        Fault{"unit = \"m/s^1.75\"\n", "", "# head", "unit", "unit is missing"},
        Fault{"axes = \"highest\"\n", "", "# head", "axes", "axes is missing"},
        Fault{"confirmed = \"from memory\"\n", "", "# head", "confirmed", "confirmed is missing"},
        Fault{"use = \"office\"\n", "", "[[scale]]", "scale[0].use", "use is missing"},
        Fault{"bands = [ { name = \"everything\" } ]\n", "", "[[scale]]\nuse = \"any\"", "scale[1].bands",
              "bands is missing"},
        Fault{"name = \"middle\", ", "", "from = 0.1", "scale[0].bands[1].name", "name is missing"},
        Fault{"id = \"example\"", "id = \"other\"", "other", "id", "the file is example.toml"},
        Fault{"source = \"example-2000\"", "source = \"example-200\"", "source", "source",
              "not in sources.toml; did you mean \"example-2000\"?"},
        Fault{"settings = [\"building\", \"rail\"]", "settings = [\"building\", \"rial\"]", "rial", "settings[1]",
              "did you mean \"rail\"?"},
        Fault{"settings = [\"building\", \"rail\"]", "settings = [\"rail\", \"rail\"]", "settings", "settings[1]",
              "listed twice"},
        Fault{"settings = [\"building\", \"rail\"]", "settings = []", "settings", "settings", "settings is empty"},
        Fault{"settings =", "setting = \"rail\"\nsettings =", "setting = ", "setting", "both given"},
        Fault{"quantity = \"vdv\"", "quantity = \"vvd\"", "quantity", "quantity", "did you mean \"vdv\"?"},
        Fault{"unit = \"m/s^1.75\"", "unit = \"m/s2\"", "unit", "unit", "vdv is stated in \"m/s^1.75\""},
        Fault{"axes = \"highest\"", "axes = \"high\"", "axes", "axes", "known here: each, highest, vertical, total"},
        Fault{"axes = \"highest\"", "axes = \"vertical\"", "weighting", "weighting", "judges z alone"},
        Fault{"vertical = \"Wb\"", "vertical = \"wb\"", "weighting", "weighting.vertical", "cannot be \"wb\""},
        Fault{"vertical = \"Wb\"", "vertical = \"Wb\", z = \"Wk\"", "weighting", "weighting.vertical",
              "gives the axis z again"},
        Fault{"factor = { x = 1.4,", "factor = { rx = 1.4,", "factor", "factor.rx", "the axis rx has no weighting"},
        Fault{"factor = { x = 1.4,", "factor = { x = 0,", "factor", "factor.x", "above 0"},
        Fault{"factor = { x = 1.4, vertical = 1 }", "factor = \"1.4\"", "factor", "factor", "give a number"},
        Fault{"needed = [\"z\"]", "needed = [\"rz\"]", "needed", "needed[0]", "cannot be \"rz\""},
        Fault{"needed = [\"z\"]", "needed = []", "needed", "needed", "needed is empty"},
        Fault{"\"bed\"", "\"sofa\"", "sofa", "positions[1]", "cannot be \"sofa\""},
        Fault{"period = \"night\"", "period = \"noon\"", "period", "period", "cannot be \"noon\""},
        Fault{"reference_h = 8.0", "reference_h = 0", "reference_h", "reference_h", "above 0"},
        Fault{"least_duration_s = 60", "least_duration_s = -1", "least", "least_duration_s", "0 or more"},
        Fault{"wished_duration_s = 120.0", "wished_duration_s = true", "wished", "wished_duration_s", "give a number"},
        Fault{"confirmed = \"from memory\"", "confirmed = \"yes\"", "confirmed", "confirmed", "\"from memory\""},
        Fault{"use = \"any\"", "use = \"office\"", "use = \"office\"\nbands = [ {", "scale[1].use",
              "the scale in line 21 is for \"office\" already"},
        Fault{"bands = [ { name = \"everything\" } ]", "bands = []", "bands = []", "scale[1].bands", "is empty"},
        Fault{"below = 0.2", "exceeds = false", "\"low\"", "scale[0].bands[0].below", "has no limit"},
        Fault{"below = 0.2", "below = 0.2, up_to = 0.2", "\"low\"", "scale[0].bands[0].up_to", "stands beside below"},
        Fault{"below = 0.2", "below = \"0.2\"", "\"low\"", "scale[0].bands[0].below", "give a number"},
        Fault{"below = 0.2", "below = 0.2, from = 0.1", "\"low\"", "scale[0].bands[0].from", "under it without a band"},
        Fault{"below = 0.2", "below = 0.4", "middle", "scale[0].bands[1].up_to", "not above the limit 0.4"},
        Fault{"from = 0.1", "from = 0.25", "middle", "scale[0].bands[1].from",
              "above the limit 0.2 of the band before"},
        Fault{"from = 0.3, exceeds", "up_to = 0.5, exceeds", "\"high\"", "scale[0].bands[2].up_to",
              "above it without a band"},
        Fault{"from = 0.1, up_to = 0.4", "up_to = 0.4, exceeds = 1", "middle", "scale[0].bands[1].exceeds",
              "give true or false"},
        Fault{"below = 0.2 }", "below = 0.2, exceeds = true }", "middle", "scale[0].bands[1].exceeds",
              "a milder band exceeds already"},
        Fault{"unit = \"m/s^1.75\"", "unit = m/s2", "unit", "", "not TOML"}));

TEST(CriterionFile, AQuantityAndItsWeightingAreOfOneMotion)
{
    const auto complaint = [](std::string_view quantity, std::string_view unit, std::string_view weighting,
                              std::string_view more = "") {
        std::string text = replaced(whole_criterion, "quantity = \"vdv\"\nunit = \"m/s^1.75\"",
                                    fmt::format("quantity = \"{}\"\nunit = \"{}\"\n{}", quantity, unit, more));
        text = replaced(text, "vertical = \"Wb\"", fmt::format("vertical = \"{}\"", weighting));
        text = replaced(text, "horizontal = \"Wd\", ", "");
        text = replaced(text, "factor = { x = 1.4, vertical = 1 }\n", "");
        const Results<Criterion> read = parse_criterion(text, "example.toml", one_publication);
        return read ? std::string() : listed(read.error());
    };
    EXPECT_THAT(complaint("weighted_rms", "m/s2", "KB"),
                HasSubstr("weighting.vertical: KB gives a velocity, and weighted_rms is of an acceleration"));
    EXPECT_THAT(complaint("vdv", "m/s^1.75", "velocity"), HasSubstr("velocity gives a velocity, and vdv is of an acc"));
    EXPECT_EQ(complaint("vdv", "m/s^1.75", "flat"), "");
    EXPECT_EQ(complaint("vdv", "m/s^1.75", "none"), "");
    for (const auto* quantity : {"kb_fmax", "kb_ftm", "kb_ftr"}) {
        EXPECT_EQ(complaint(quantity, "1", "KB"), "");
        EXPECT_THAT(complaint(quantity, "1", "Wm"),
                    HasSubstr(fmt::format("{} is of the weighting KB; write", quantity)));
        EXPECT_THAT(complaint(quantity, "1", "none"), HasSubstr("is of the weighting KB"));
    }
    // What a decision averages brings its own parameters and its own wishes.
    EXPECT_THAT(complaint("comfort_index", "1", "Wb", "decision = { average_quantity = \"kb_ftr\" }"),
                HasSubstr("kb_ftr is of the weighting KB"));
    EXPECT_THAT(complaint("kb_fmax", "1", "KB", "parameters = { zero_below = 0.1 }"), HasSubstr("zero_below"));
}

TEST(CriterionFile, AnExposureNeedsItsReferenceDuration)
{
    const auto faulty_key = [](std::string_view quantity, std::string_view unit, std::string_view weighting) {
        std::string text = replaced(whole_criterion, "\"vdv\"", fmt::format("\"{}\"", quantity));
        text = replaced(replaced(text, "m/s^1.75", unit), "reference_h = 8.0\n", "");
        text = replaced(replaced(text, "Wd", weighting), "Wb", weighting);
        const Results<Criterion> read = parse_criterion(text, "example.toml", one_publication);
        return read ? std::string("none") : read.error().at(0).key;
    };
    EXPECT_EQ(faulty_key("daily_exposure", "m/s2", "Wd"), "reference_h");
    EXPECT_EQ(faulty_key("kb_ftr", "1", "KB"), "reference_h");
    EXPECT_EQ(faulty_key("kb_ftm", "1", "KB"), "none");
}

TEST(CriterionFile, FaultsOfTheBibliographyAreReported)
{
    const Folder folder;
    const auto faults = [&](std::string_view text) {
        const Results<Bibliography> read = read_sources(folder.file("sources.toml", text));
        return read ? std::string() : listed(read.error());
    };
    EXPECT_EQ(faults("[a]\ntitle = \"t\"\nedition = \"e\"\nstatus = \"s\"\nseen = \"from memory\"\nnote = \"n\"\n"),
              "");
    EXPECT_THAT(faults("[a]\ntitle = \"t\"\nedition = \"e\"\n"), HasSubstr("1:1: a.status is missing"));
    EXPECT_THAT(faults("[a]\ntitle = \"t\"\neditoin = \"e\"\nstatus = \"s\"\n"),
                HasSubstr("did you mean \"edition\"?"));
    EXPECT_THAT(faults("a = 1\n"), HasSubstr("1:1: a is not a table"));
    EXPECT_THAT(faults("[a"), HasSubstr("not TOML"));
}

// Points of three axes that add up: each term is a group, taken wherever `positions` says.
TEST(CriterionFile, TermsWithoutPositionsLeaveThemToTheCriterion)
{
    const auto read = [](std::string_view more, std::string_view position) {
        return parse_criterion(fmt::format(R"(id = "points"
title = "Points"
source = "directive-2002-44-ec"
clause = "1"
quantity = "exposure_points"
unit = "1"
axes = "sum_of_totals"
parameters = {{ action = 2.5 }}
reference_h = 8.0
confirmed = "from nobody"
{}
[[term]]
axis = "x"
weighting = "Wh"
group = 1
[[term]]
axis = "y"
weighting = "Wh"
group = 2
{}
)",
                                           more, position),
                               "points.toml", *read_sources(data + "/sources.toml"));
    };
    const Results<Criterion> plain = read("positions = [\"hand-left\"]", "");
    ASSERT_TRUE(plain) << listed(plain.error());
    EXPECT_THAT(plain->positions, ElementsAre(Position::hand_left));
    EXPECT_THAT(plain->needed, ElementsAre(Axis::x, Axis::y)) << "a sum over the axes needs all";
    const Results<Criterion> some = read("needed = [\"y\"]", "");
    ASSERT_TRUE(some) << listed(some.error());
    EXPECT_THAT(some->needed, ElementsAre(Axis::y));
    const Results<Criterion> both = read("positions = [\"hand-left\"]", "position = \"hand-right\"");
    ASSERT_FALSE(both);
    EXPECT_THAT(listed(both.error()), HasSubstr("positions stands beside terms with positions"));
    const Results<Criterion> unknown = read("needed = [\"z\"]", "");
    ASSERT_FALSE(unknown);
    const Results<Criterion> beyond = read("", "[[term]]\naxis = \"z\"\nweighting = \"Wh\"\ngroup = 2999999999999");
    ASSERT_FALSE(beyond);
    EXPECT_THAT(listed(beyond.error()), HasSubstr("from 1 to 1000"));
}

TEST(Criteria, TheShippedOnesLoadWithoutAProblem)
{
    const Results<Bibliography> bibliography = read_sources(data + "/sources.toml");
    ASSERT_TRUE(bibliography) << listed(bibliography.error());
    const CriteriaLibrary library = load_criteria({data + "/criteria"}, *bibliography);
    EXPECT_THAT(library.problems, IsEmpty()) << listed(library.problems);
    std::vector<std::string> ids;
    for (const auto& [id, criterion] : library.criteria) ids.push_back(id);
    for (const auto* id : {"bs6472-1-2008-day", "bs6472-1-2008-night", "directive-2002-44-ec-a8",
                           "directive-2002-44-ec-vdv", "iso2631-1-1997-comfort", "iso2631-2-2003", "iso6954-2000"})
        EXPECT_THAT(ids, ::testing::Contains(id));
    for (const auto& [key, publication] : *bibliography) EXPECT_FALSE(publication.seen.empty()) << key;
}

// [ISO 6954:2000, from memory], [BS 6472-1:2008, secondary texts], [Directive 2002/44/EC, Article 3],
// [ISO 2631-1:1997 Annex C, from memory]: the limits of each scale, so that a slip in a data file shows.
TEST(Criteria, TheShippedLimitsAreThePublishedOnes)
{
    const CriteriaLibrary library = load_criteria({data + "/criteria"}, *read_sources(data + "/sources.toml"));
    const auto limits = [&](const std::string& id, std::string_view use) {
        std::vector<double> values;
        for (const Scale& scale : library.criteria.at(id).scales)
            if (scale.use == use)
                for (const Band& band : scale.bands)
                    if (band.limit) values.push_back(*band.limit);
        return values;
    };
    EXPECT_THAT(limits("iso6954-2000", "passenger-cabin"), ElementsAre(0.0715, 0.143));
    EXPECT_THAT(limits("iso6954-2000", "crew-accommodation"), ElementsAre(0.107, 0.214));
    EXPECT_THAT(limits("iso6954-2000", "working-area"), ElementsAre(0.143, 0.286));
    EXPECT_THAT(limits("bs6472-1-2008-day", "residential"), ElementsAre(0.2, 0.4, 0.8, 1.6));
    EXPECT_THAT(limits("bs6472-1-2008-night", "residential"), ElementsAre(0.1, 0.2, 0.4, 0.8));
    EXPECT_THAT(limits("directive-2002-44-ec-a8", "any"), ElementsAre(0.5, 1.15));
    EXPECT_THAT(limits("directive-2002-44-ec-vdv", "any"), ElementsAre(9.1, 21.0));
    EXPECT_THAT(limits("directive-2002-44-ec-hav", "any"), ElementsAre(2.5, 5.0));
    EXPECT_THAT(limits("iso2631-1-1997-comfort", "any"), ElementsAre(0.315, 0.63, 1.0, 1.6, 2.5));
    EXPECT_THAT(library.criteria.at("iso2631-2-2003").scales, IsEmpty());
    EXPECT_EQ(library.criteria.at("directive-2002-44-ec-a8").terms[0].factor, 1.4);
}

TEST(Criteria, ALocalEditionReplacesAShippedOne)
{
    const Folder folder;
    const std::string shipped = *read_text_file(data + "/criteria/iso6954-2000.toml");
    folder.file("local/iso6954-2000.toml", replaced(shipped, "below = 0.0715", "below = 0.05"));
    folder.file("local/contract.toml", replaced(replaced(shipped, "\"iso6954-2000\"", "\"contract\""),
                                                "source = \"iso6954-2000\"", "source = \"contract-1\""));
    folder.file("local/sources.toml", "[contract-1]\ntitle = \"t\"\nedition = \"Contract 1\"\nstatus = \"in force\"\n");
    folder.file("local/survey.toml", whole_survey);
    const CriteriaLibrary library = load_criteria({data + "/criteria", folder.path("missing"), folder.path("local")},
                                                  *read_sources(data + "/sources.toml"));
    EXPECT_THAT(library.problems, IsEmpty()) << listed(library.problems);
    EXPECT_EQ(library.criteria.at("iso6954-2000").scales.at(0).bands.at(0).limit, 0.05);
    EXPECT_EQ(library.criteria.at("iso6954-2000").path, folder.path("local/iso6954-2000.toml"));
    EXPECT_EQ(library.criteria.at("contract").edition, "Contract 1");
    EXPECT_TRUE(library.criteria.contains("iso2631-2-2003"));
}

TEST(Criteria, ASourcesFileAboveTheFolderIsReadToo)
{
    const Folder folder;
    folder.file("sources.toml", "[example-2000]\ntitle = \"t\"\nedition = \"Above\"\nstatus = \"s\"\n");
    folder.file("criteria/example.toml", whole_criterion);
    for (const std::string& name : {folder.path("criteria"), folder.path("criteria/")}) {
        const CriteriaLibrary library = load_criteria({name}, {});
        EXPECT_THAT(library.problems, IsEmpty()) << listed(library.problems);
        EXPECT_EQ(library.criteria.at("example").edition, "Above");
    }
}

TEST(Criteria, AFaultyLocalEditionSpoilsOnlyItsOwnId)
{
    const Folder folder;
    const std::string path = folder.file("iso6954-2000.toml", "id = \"iso6954-2000\"\n");
    const CriteriaLibrary library =
        load_criteria({data + "/criteria", folder.path()}, *read_sources(data + "/sources.toml"));
    EXPECT_FALSE(library.criteria.contains("iso6954-2000")); // never judged by the edition it was to replace
    EXPECT_TRUE(library.criteria.contains("iso2631-2-2003"));
    ASSERT_FALSE(library.problems.empty());
    for (const Problem& problem : library.problems) EXPECT_EQ(problem.file, path);
}

TEST(Criteria, TheDataFolderFollowsTheEnvironment)
{
    const char* old = std::getenv("BECALM_DATA");
    const std::string kept = old == nullptr ? "" : old;
    ::setenv("BECALM_DATA", "/elsewhere", 1);
    EXPECT_EQ(data_folder(), "/elsewhere");
    ::unsetenv("BECALM_DATA");
    EXPECT_TRUE(fs::exists(fs::path(data_folder()) / "sources.toml")) << data_folder();
    if (old != nullptr) ::setenv("BECALM_DATA", kept.c_str(), 1);
}

// --- schemas: they and the readers know the same keys and names ---

nlohmann::json schema(const std::string& name)
{
    return nlohmann::json::parse(*read_text_file(data + "/schema/" + name));
}

std::set<std::string> keys_in(const nlohmann::json& object)
{
    std::set<std::string> keys;
    for (const auto& [key, value] : object.at("properties").items()) keys.insert(key);
    EXPECT_EQ(object.at("additionalProperties"), false);
    return keys;
}

std::set<std::string> set_of(const nlohmann::json& names) { return names.get<std::set<std::string>>(); }

template <class... Lists>
std::set<std::string> keys_of(const Lists&... lists)
{
    std::set<std::string> keys;
    (keys.insert(lists.begin(), lists.end()), ...);
    return keys;
}

template <class Values>
std::set<std::string> names(const Values& values)
{
    std::set<std::string> found;
    for (const auto value : values) found.insert(std::string(name_of(value)));
    return found;
}

TEST(Schemas, TheSurveySchemaKnowsWhatTheReaderKnows)
{
    const nlohmann::json survey = schema("survey.schema.json");
    const nlohmann::json& defs = survey.at("$defs");
    EXPECT_EQ(keys_in(survey), keys_of(keys::survey));
    EXPECT_EQ(keys_in(defs.at("sensor")), keys_of(keys::sensor));
    EXPECT_EQ(keys_in(defs.at("calibration")), keys_of(keys::calibration));
    EXPECT_EQ(keys_in(defs.at("calibration_check")), keys_of(keys::calibration_check));
    EXPECT_EQ(keys_in(defs.at("condition")), keys_of(keys::condition, keys::condition_values));
    EXPECT_EQ(keys_in(defs.at("source")), keys_of(keys::source, keys::source_values));
    EXPECT_EQ(keys_in(defs.at("plan")), keys_of(keys::plan));
    EXPECT_EQ(keys_in(defs.at("space")), keys_of(keys::space));
    EXPECT_EQ(keys_in(defs.at("recording")), keys_of(keys::recording));
    EXPECT_EQ(keys_in(defs.at("exclusion")), keys_of(keys::exclusion));
    EXPECT_EQ(keys_in(defs.at("event")), keys_of(keys::event));
    EXPECT_EQ(keys_in(defs.at("exposure")), keys_of(keys::exposure));
    EXPECT_EQ(keys_in(defs.at("task")), keys_of(keys::task));
    EXPECT_EQ(keys_in(defs.at("judge")), keys_of(keys::judge));

    EXPECT_EQ(set_of(survey.at("properties").at("setting").at("enum")), names(all_settings));
    EXPECT_EQ(set_of(survey.at("properties").at("decision_rule").at("enum")), names(all_comparisons));
    EXPECT_EQ(set_of(defs.at("condition").at("properties").at("period").at("enum")), keys_of(keys::condition_periods));
    EXPECT_EQ(set_of(defs.at("source").at("properties").at("kind").at("enum")), keys_of(keys::source_kinds));
    const nlohmann::json& recording = defs.at("recording").at("properties");
    EXPECT_EQ(set_of(recording.at("position").at("enum")), names(all_positions));
    EXPECT_EQ(set_of(recording.at("channels").at("patternProperties").at("^[1-9][0-9]*$").at("enum")), names(all_axes));
    std::set<std::string> known_units;
    for (const Unit& unit : units) known_units.insert(std::string(unit.name));
    EXPECT_EQ(set_of(recording.at("unit").at("enum")), known_units);
}

TEST(Schemas, TheCriterionSchemaKnowsWhatTheReaderKnows)
{
    const nlohmann::json criterion = schema("criterion.schema.json");
    const nlohmann::json& properties = criterion.at("properties");
    EXPECT_EQ(keys_in(criterion), keys_of(keys::criterion));
    EXPECT_EQ(keys_in(criterion.at("$defs").at("scale")), keys_of(keys::scale));
    EXPECT_EQ(keys_in(criterion.at("$defs").at("band")), keys_of(keys::band));
    EXPECT_EQ(keys_in(criterion.at("$defs").at("term")), keys_of(keys::term));
    std::set<std::string> parameters;
    for (const auto& [quantity, parameter] : keys::quantity_parameters) parameters.insert(std::string(parameter));
    EXPECT_EQ(keys_in(criterion.at("$defs").at("parameters")), parameters);
    EXPECT_EQ(keys_in(properties.at("rest")), keys_of(keys::rest));
    EXPECT_EQ(keys_in(properties.at("decision")), keys_of(keys::decision));
    EXPECT_EQ(keys_in(properties.at("curve").at("anyOf").at(1)), keys_of(keys::per_axis));
    EXPECT_EQ(set_of(properties.at("repeats").at("enum")), names(all_repeats_rules));
    EXPECT_EQ(set_of(properties.at("conditions").at("enum")), names(all_parts_rules));
    for (const auto* key : {"weighting", "factor"})
        EXPECT_EQ(keys_in(properties.at(key).at("anyOf").at(1)), keys_of(keys::per_axis));
    EXPECT_EQ(set_of(properties.at("weighting").at("anyOf").at(0).at("enum")), names(all_weightings));
    EXPECT_EQ(set_of(properties.at("axes").at("enum")), names(all_axis_rules));
    EXPECT_EQ(set_of(properties.at("period").at("enum")), keys_of(keys::periods));
    EXPECT_EQ(set_of(properties.at("settings").at("items").at("enum")), names(all_settings));
    EXPECT_EQ(set_of(properties.at("needed").at("items").at("enum")), names(all_axes));
    EXPECT_EQ(set_of(properties.at("positions").at("items").at("enum")), names(all_positions));

    std::set<std::string> quantities;
    std::map<std::string, std::string> unit_of;
    for (const auto& [quantity, unit] : keys::quantity_units) {
        quantities.insert(std::string(quantity));
        unit_of[std::string(quantity)] = unit;
    }
    EXPECT_EQ(set_of(properties.at("quantity").at("enum")), quantities);
    std::map<std::string, std::string> unit_in_schema;
    for (const nlohmann::json& rule : criterion.at("allOf"))
        if (rule.at("then").contains("properties"))
            for (const std::string& quantity : set_of(rule.at("if").at("properties").at("quantity").at("enum")))
                unit_in_schema[quantity] = rule.at("then").at("properties").at("unit").at("const");
    EXPECT_EQ(unit_in_schema, unit_of);
}

// Required in the schema if and only if the reader misses it.
TEST(Schemas, TheRequiredKeysAreThoseTheReaderMisses)
{
    const nlohmann::json survey = schema("survey.schema.json");
    const auto missed = [](const std::vector<Problem>& problems) {
        std::set<std::string> keys;
        for (const Problem& problem : problems)
            if (problem.what.ends_with(" is missing")) keys.insert(problem.key.substr(problem.key.rfind('.') + 1));
        return keys;
    };
    EXPECT_EQ(missed(faults_of("")), set_of(survey.at("required")));
    for (const auto* table : {"sensor", "condition", "source", "plan", "space", "recording", "exposure", "judge"}) {
        const std::string text = fmt::format("title = \"\"\nsetting = \"rail\"\n[[{}]]\n", table);
        EXPECT_EQ(missed(faults_of(text)), set_of(survey.at("$defs").at(table).at("required"))) << table;
    }
    const nlohmann::json criterion = schema("criterion.schema.json");
    // A weighting, or terms that bring their own.
    std::set<std::string> of_criterion = set_of(criterion.at("required"));
    of_criterion.merge(set_of(criterion.at("anyOf").at(0).at("required")));
    EXPECT_EQ(missed(parse_criterion("", "a.toml", {}).error()), of_criterion);
    std::set<std::string> of_term = set_of(criterion.at("required"));
    of_term.merge(set_of(criterion.at("$defs").at("term").at("required")));
    EXPECT_EQ(missed(parse_criterion("[[term]]\n", "a.toml", {}).error()), of_term);
    EXPECT_EQ(missed(parse_criterion("[[scale]]\n", "a.toml", {}).error()), [&] {
        std::set<std::string> both = of_criterion;
        both.merge(set_of(criterion.at("$defs").at("scale").at("required")));
        both.merge(set_of(criterion.at("$defs").at("scale").at("anyOf").at(0).at("required")));
        return both;
    }());
}

TEST(Schemas, TheOutputSchemasNameTheirVersionAndAllowAdditions)
{
    for (const auto* name : {"weigh", "response", "spectrum", "relation", "decay", "assessment", "explanation"}) {
        const nlohmann::json output = schema(fmt::format("{}-1.schema.json", name));
        EXPECT_EQ(output.at("properties").at("schema").at("const"), fmt::format("becalm.{}/1", name));
        EXPECT_FALSE(output.contains("additionalProperties")) << name;
    }
}

// --- the small tools ---

// Expected distances computed from the definition (restricted Damerau-Levenshtein).
TEST(NearestName, SlipsOfThePenAreFound)
{
    EXPECT_EQ(edit_distance("", ""), 0u);
    EXPECT_EQ(edit_distance("", "abc"), 3u);
    EXPECT_EQ(edit_distance("kitten", "sitting"), 3u);
    EXPECT_EQ(edit_distance("cleint", "client"), 1u);
    const std::vector<std::string> known{"from_s", "to_s", "reason"};
    EXPECT_EQ(nearest_name("form_s", known), "from_s");
    EXPECT_EQ(nearest_name("reasons", known), "reason");
    EXPECT_EQ(nearest_name("unrelated_word", known), "");
    EXPECT_EQ(nearest_name("q", known), "");
    EXPECT_EQ(nearest_name(std::string(100000, 'a'), known), "");
}

RC_GTEST_PROP(NearestName, TheDistanceIsSymmetricAndZeroForEqualWords, (const std::string& a, const std::string& b))
{
    RC_ASSERT(edit_distance(a, b) == edit_distance(b, a));
    RC_ASSERT((edit_distance(a, b) == 0) == (a == b));
}

TEST(TomlText, KeysAndNumbersAreWrittenSoThatTheyReadBack)
{
    EXPECT_EQ(toml_key("from_s"), "from_s");
    EXPECT_EQ(toml_key("a b"), "\"a b\"");
    EXPECT_EQ(toml_key(""), "\"\"");
    EXPECT_EQ(toml_number(3.0), "3.0");
    EXPECT_EQ(toml_number(0.1), "0.1");
    EXPECT_EQ(toml_number(1e300), "1e+300");
    EXPECT_EQ(toml_string("a\"\\\n\x01"), "\"a\\\"\\\\\\n\\u0001\"");
    EXPECT_EQ(toml_string("\xc3\xa9 \xe2\x82\xac \xf0\x9f\x98\x80"), "\"\xc3\xa9 \xe2\x82\xac \xf0\x9f\x98\x80\"");
    EXPECT_EQ(toml_string("\xed\xa0\x80"), "\"\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd\""); // a surrogate is no UTF-8
}

} // namespace
} // namespace becalm::io

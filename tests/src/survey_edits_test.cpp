// Changes to a survey's text: entries, keys and the values on top. Expected texts are written out by hand.
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "src/io/survey_file.h"
#include "src/io/toml_text.h"

#include "tests/src/random_edits.h"

namespace becalm::io {
namespace {

using testing::HasSubstr;

const std::string path = "survey.toml";

// Comments in every kind of place.
const std::string commented = R"(# head
title = "t"   # the title
setting = "rail"
note = """
two

lines"""   # the note

# --- Sensors: with what. ---
# They belong to the heading, too.
[[sensor]]   # first
id = "a1"
# serial = "commented out"
# this belongs to nobody

# --- Spaces. ---
[[space]]
id = "p"
use = "any"
plan = "l"
place = [
  0.25, # from the left
  1,
]

# the quiet one
# at the end
[[space]]
  id = "q"   # id
  use = "any"
  label = "Q"   # label
  # group = "?"

[[plan]] # plan
file = "l.svg"
id = "l"

# Recordings follow
[[recording]]
file = "a.wav"
space = "p"
exclude = [
  { from_s = 1, to_s = 2, reason = "#" },   # why
]   # end of list
  [recording.channels]   # by hand
  1 = "x"
  2 = "z"

# between
[[recording]]
file = "b.wav"
space = "p"
channels.1 = "z"
comment = "c" # end)";

const std::string in_brackets = R"(title = "t"
setting = "rail"
plan = []
sensor = [ { id = "a1" }, { id = "b" } ] # sensors
space = [
  { id = "p", label = "P", use = "any", group = "g" }, # first
  { id = "q", use = "any", group = "g" } # second
] # spaces
judge = [ { criteria = [ "a", "b" ] } ]
recording = [
  # of the first
  { file = "a.wav", space = "p", scale = 2.0, channels = { 1 = "x" }, comment = "c" },
]
)";

std::string replaced(std::string text, std::string_view what, std::string_view with)
{
    const std::size_t at = text.find(what);
    EXPECT_NE(at, std::string::npos) << what;
    return text.replace(at, what.size(), with);
}

std::string in_crlf(const std::string& text)
{
    std::string out;
    for (const char c : text) out += c == '\n' ? std::string("\r\n") : std::string(1, c);
    return out;
}

std::string told(const Result<std::string>& result) { return result ? *result : to_text(result.error()); }

// --- entries ---

TEST(AddingAnEntry, PutsItBelowTheLastOfItsKind)
{
    // A key that is commented out belongs to the entry above it; the new one takes its indentation of the header.
    EXPECT_EQ(
        told(with_entry(commented, path, "space", "id = \"r\"\nuse = \"any\"\n")),
        replaced(commented, "  # group = \"?\"\n", "  # group = \"?\"\n\n[[space]]\nid = \"r\"\nuse = \"any\"\n"));
    EXPECT_EQ(told(with_entry(commented, path, "sensor", "id = \"b\"")),
              replaced(commented, "out\"\n", "out\"\n\n[[sensor]]\nid = \"b\"\n"));
    // The file has no line end at its end, and gets none.
    EXPECT_EQ(told(with_entry(commented, path, "recording", "file = \"c\"\nspace = \"q\"\nchannels.1 = \"z\"")),
              commented + "\n\n[[recording]]\nfile = \"c\"\nspace = \"q\"\nchannels.1 = \"z\"");
}

TEST(AddingAnEntry, PutsItBelowTheTablesOfTheLast)
{
    const std::string text = commented.substr(0, commented.find("\n# between"));
    EXPECT_EQ(told(with_entry(text, path, "recording", "file = \"c\"\nspace = \"q\"\nchannels.1 = \"z\"")),
              replaced(text, "  2 = \"z\"\n",
                       "  2 = \"z\"\n\n[[recording]]\nfile = \"c\"\nspace = \"q\"\nchannels.1 = \"z\"\n"));
}

TEST(AddingAnEntry, KeepsTheIndentationOfHeaders)
{
    EXPECT_EQ(told(with_entry("  [[space]]\n  id = \"p\"\n# end\n", path, "space", "id = \"q\"\n\nuse = \"any\"\n")),
              "  [[space]]\n  id = \"p\"\n\n  [[space]]\n  id = \"q\"\n\n  use = \"any\"\n# end\n");
}

TEST(AddingAnEntry, PutsTheFirstOfAKindAtTheEndOfTheFile)
{
    EXPECT_EQ(told(with_entry(commented, path, "judge", "criteria = [\"k\"]\n")),
              commented + "\n\n[[judge]]\ncriteria = [\"k\"]");
    EXPECT_EQ(told(with_entry("title = \"t\"\r\n", path, "plan", "id = \"l\"\nfile = \"l.png\"\n")),
              "title = \"t\"\r\n\r\n[[plan]]\r\nid = \"l\"\r\nfile = \"l.png\"\r\n");
    EXPECT_EQ(told(with_entry("", path, "plan", "id = \"l\"")), "[[plan]]\nid = \"l\"\n");
}

TEST(AddingAnEntry, MakesItAnElementOfAListInBrackets)
{
    const std::string space = "id = \"r\" \n\nuse =  'any'\n";
    EXPECT_EQ(told(with_entry(in_brackets, path, "space", space)),
              replaced(in_brackets, "group = \"g\" } # second\n",
                       "group = \"g\" }, # second\n  { id = \"r\", use =  'any' }\n"));
    EXPECT_EQ(told(with_entry(in_brackets, path, "plan", "id = \"l\"\nfile = \"l.png\"\n")),
              replaced(in_brackets, "plan = []", "plan = [ { id = \"l\", file = \"l.png\" } ]"));
    EXPECT_EQ(told(with_entry(in_brackets, path, "sensor", "id = \"c\"")),
              replaced(in_brackets, "{ id = \"b\" }", "{ id = \"b\" }, { id = \"c\" }"));
    // What would be lost on one line is refused.
    EXPECT_THAT(told(with_entry(in_brackets, path, "space", "id = \"r\" # mine\nuse = \"any\"")),
                HasSubstr("space is a list in brackets, and the new entry needs lines of its own"));
    EXPECT_FALSE(with_entry(in_brackets, path, "space", "id = \"r\"\nuse = \"any\" # mine"));
    EXPECT_FALSE(with_entry(in_brackets, path, "space", "id = \"r\"\nlabel = \"\"\"\na\nb\"\"\""));
    EXPECT_FALSE(with_entry(in_brackets, path, "recording", "file = \"c\"\n[recording.channels]\n1 = \"z\""));
}

TEST(AddingAnEntry, RefusesWhatAreNotTheLinesOfOne)
{
    for (const auto* lines :
         {"id", "id = \"r\"\n[[space]]\nid = \"s\"", "id = \"r\"\n[note]", "id = \"r\"\nid = \"s\""})
        EXPECT_THAT(told(with_entry(commented, path, "space", lines)), HasSubstr("are not the lines of one [[space]]"))
            << lines;
    EXPECT_THAT(told(with_entry(commented, path, "title", "id = \"r\"")), HasSubstr("title is not a list of tables"));
    EXPECT_THAT(told(with_entry("title", path, "space", "id = \"r\"")), HasSubstr("this is not TOML"));
}

TEST(TakingAnEntryOut, TakesItsOwnCommentsAndNoOthers)
{
    EXPECT_EQ(told(without_entry(commented, path, "space", 1)),
              replaced(commented,
                       "\n# the quiet one\n# at the end\n[[space]]\n  id = \"q\"   # id\n  use = \"any\"\n  label = "
                       "\"Q\"   # label\n  # group = \"?\"\n",
                       ""));
    EXPECT_EQ(told(without_entry(commented, path, "recording", 1)),
              commented.substr(0, commented.find("\n\n# between")));
    EXPECT_EQ(told(without_entry(in_crlf(commented), path, "recording", 1)),
              in_crlf(commented.substr(0, commented.find("\n\n# between"))));
}

TEST(TakingAnEntryOut, LeavesTheHeadingOfItsSection)
{
    EXPECT_EQ(told(without_entry(commented, path, "sensor", 0)),
              replaced(commented, "[[sensor]]   # first\nid = \"a1\"\n# serial = \"commented out\"\n", ""));
}

TEST(TakingAnEntryOut, TakesTheTablesBelowIt)
{
    const std::size_t from = commented.find("\n# Recordings follow");
    const std::size_t to = commented.find("\n# between");
    EXPECT_EQ(told(without_entry(commented, path, "recording", 0)), commented.substr(0, from) + commented.substr(to));
}

TEST(TakingAnEntryOut, TakesAnElementOutOfAListInBrackets)
{
    EXPECT_EQ(told(without_entry(in_brackets, path, "space", 0)),
              replaced(in_brackets, "  { id = \"p\", label = \"P\", use = \"any\", group = \"g\" }, # first\n", ""));
    EXPECT_EQ(told(without_entry(in_brackets, path, "sensor", 0)), replaced(in_brackets, "{ id = \"a1\" }, ", ""));
    EXPECT_EQ(told(without_entry(in_brackets, path, "judge", 0)),
              replaced(in_brackets, "[ { criteria = [ \"a\", \"b\" ] } ]", "[  ]"));
}

TEST(TakingAnEntryOut, IsRefusedWhereOtherTablesStandInItsMidst)
{
    const std::string text =
        "[[recording]]\nfile = \"a\"\n\n[[space]]\nid = \"p\"\n\n[recording.channels]\n1 = \"x\"\n";
    EXPECT_THAT(told(without_entry(text, path, "recording", 0)), HasSubstr("cannot make this change"));
    EXPECT_THAT(told(without_entry(commented, path, "space", 2)), HasSubstr("there is no space[2]"));
    EXPECT_THAT(told(without_entry(commented, path, "judge", 0)), HasSubstr("there is no judge[0]"));
    EXPECT_THAT(told(without_entry(commented, path, "title", 0)), HasSubstr("title is not a list of tables"));
}

// --- keys ---

TEST(TakingAKeyOut, TakesItsLines)
{
    EXPECT_EQ(told(without_value(commented, path, "space", 1, "label")),
              replaced(commented, "  label = \"Q\"   # label\n", ""));
    EXPECT_EQ(told(without_value(commented, path, "recording", 0, "exclude")),
              replaced(commented,
                       "exclude = [\n  { from_s = 1, to_s = 2, reason = \"#\" },   # why\n]   # end of list\n", ""));
    EXPECT_EQ(told(without_value(commented, path, "space", 0, "place")),
              replaced(commented, "place = [\n  0.25, # from the left\n  1,\n]\n", ""));
    // The last line of a file that has no line end there.
    EXPECT_EQ(told(without_value(commented, path, "recording", 1, "comment")),
              replaced(commented, "\ncomment = \"c\" # end", ""));
}

TEST(TakingAKeyOut, LeavesTheOthersBetweenBraces)
{
    const std::string text = "a = [ { x = 1, y = [ 2, 3 ], z = 4 }, { x = 1 } ] # end\n";
    EXPECT_EQ(told(without_value(text, path, "a", 0, "x")), replaced(text, "x = 1, ", ""));
    EXPECT_EQ(told(without_value(text, path, "a", 0, "y")), replaced(text, "y = [ 2, 3 ], ", ""));
    EXPECT_EQ(told(without_value(text, path, "a", 0, "z")), replaced(text, ", z = 4", ""));
    EXPECT_EQ(told(without_value(text, path, "a", 1, "x")), replaced(text, "{ x = 1 }", "{  }"));
}

TEST(TakingAKeyOut, IsRefusedWhereItIsATableOfItsOwnOrNotThere)
{
    EXPECT_THAT(told(without_value(commented, path, "recording", 0, "channels")),
                HasSubstr("survey.toml:45:3: channels is written as a table of its own"));
    EXPECT_THAT(told(without_value(commented, path, "recording", 1, "channels")),
                HasSubstr("channels is written as a table of its own"));
    EXPECT_THAT(told(without_value(commented, path, "space", 0, "label")), HasSubstr("there is no space[0].label"));
    EXPECT_THAT(told(without_value(commented, path, "space", 7, "label")), HasSubstr("there is no space[7]"));
}

TEST(SettingAValueOnTop, ReplacesItOrAddsItBelowTheLast)
{
    EXPECT_EQ(told(with_top_value(commented, path, "title", "\"new\"")), replaced(commented, "\"t\"", "\"new\""));
    EXPECT_EQ(told(with_top_value(commented, path, "note", "\"\"")),
              replaced(commented, "\"\"\"\ntwo\n\nlines\"\"\"", "\"\""));
    EXPECT_EQ(told(with_top_value(commented, path, "client", "\"nobody\"")),
              replaced(commented, "# the note\n", "# the note\nclient = \"nobody\"\n"));
    EXPECT_EQ(told(with_top_value("\xef\xbb\xbf# head\r\n[[space]]\r\n", path, "title", "\"t\"")),
              "\xef\xbb\xbftitle = \"t\"\r\n# head\r\n[[space]]\r\n");
    EXPECT_THAT(told(with_top_value(commented, path, "space", "1")),
                HasSubstr("space is written as a table of its own"));
    EXPECT_THAT(told(with_top_value(commented, path, "title", "new")), HasSubstr("is not a TOML value on one line"));
    EXPECT_THAT(told(with_top_value(commented, path, "title", "\"a\"\nclient = \"b\"")),
                HasSubstr("is not a TOML value on one line"));
}

// --- many of them ---

std::string in_any_line_ends(std::string text)
{
    if (*rc::gen::arbitrary<bool>()) text = in_crlf(text);
    if (*rc::gen::arbitrary<bool>()) text = "\xef\xbb\xbf" + text;
    return text;
}

RC_GTEST_PROP(EditsInAnyOrder, GiveTheSurveyTheyShould, ())
{
    // The demo surveys are edited at greater length in tests/faces.
    constexpr int edits = 8;
    if (*rc::gen::arbitrary<bool>())
        tests::edit_at_random(in_any_line_ends(in_brackets), edits, tests::Layout::lists);
    else
        tests::edit_at_random(in_any_line_ends(*rc::gen::element(commented, survey_as_toml({}))), edits,
                              tests::Layout::tables);
}

// ---- many values at once, ids, tasks ----

const std::string day_of_work = R"(title = "t"
setting = "road"

[[space]]
id = "cab" # where they sit
use = "any"

[[recording]]
file = "a.wav"
space = "cab"
channels = { 1 = "x", 2 = "y", 3 = "z" } # as wired

[[exposure]]
person = "Driver"
tasks = [
    { space = "cab", hours = 4 }, # morning
    { space = "cab", hours = 3.5 },
]
)";

TEST(SurveyEdits, ValuesAreSetAtOnceAsOneAfterTheOther)
{
    const std::vector<ValueEdit> edits{
        {.array = "recording", .index = 0, .key = "1", .value = "\"z\"", .within = "channels"},
        {.array = "recording", .index = 0, .key = "3", .value = "\"x\"", .within = "channels"},
        {.array = "recording", .index = 0, .key = "scale", .value = "2.5"},
        {.array = "recording", .index = 0, .key = "comment", .value = "\"c\""},
        {.array = "space", .index = 0, .key = "label", .value = "\"first\""},
        {.array = "space", .index = 0, .key = "label", .value = "\"Cab\""},
        {.array = "space", .index = 0, .key = "group"},
        {.array = "exposure", .index = 0, .key = "hours", .value = "5", .within = "tasks", .item = 0},
        {.array = "exposure", .index = 0, .key = "position", .value = "\"seat-pan\"", .within = "tasks", .item = 1}};
    const auto changed = with_values(day_of_work, path, edits);
    ASSERT_TRUE(changed) << to_text(changed.error());
    EXPECT_EQ(*changed, R"(title = "t"
setting = "road"

[[space]]
id = "cab" # where they sit
use = "any"
label = "Cab"

[[recording]]
file = "a.wav"
space = "cab"
channels = { 1 = "z", 2 = "y", 3 = "x" } # as wired
scale = 2.5
comment = "c"

[[exposure]]
person = "Driver"
tasks = [
    { space = "cab", hours = 5 }, # morning
    { space = "cab", hours = 3.5, position = "seat-pan" },
]
)");
}

TEST(SurveyEdits, ValuesThatTouchEachOtherAreSetToo)
{
    // The line behind which the new key would go is taken away in the same breath.
    const auto changed =
        with_values(day_of_work, path,
                    std::vector<ValueEdit>{{.array = "space", .index = 0, .key = "use"},
                                           {.array = "space", .index = 0, .key = "group", .value = "\"g\""},
                                           {.array = "recording", .index = 0, .key = "2", .within = "channels"},
                                           {.array = "recording", .index = 0, .key = "3", .within = "channels"}});
    ASSERT_TRUE(changed) << to_text(changed.error());
    EXPECT_THAT(*changed, HasSubstr("id = \"cab\" # where they sit\ngroup = \"g\"\n"));
    EXPECT_THAT(*changed, HasSubstr("channels = { 1 = \"x\" } # as wired\n"));
}

TEST(SurveyEdits, APlaceThatIsNotThereIsRefused)
{
    for (const ValueEdit& edit : std::vector<ValueEdit>{
             {.array = "space", .index = 1, .key = "use", .value = "1"},
             {.array = "sensor", .index = 0, .key = "id", .value = "1"},
             {.array = "exposure", .index = 0, .key = "hours", .value = "1", .within = "tasks", .item = 2},
             {.array = "space", .index = 0, .key = "x", .value = "1", .within = "channels"},
             {.array = "space", .index = 0, .key = "use", .value = "no TOML"}})
        EXPECT_FALSE(with_values(day_of_work, path, std::span(&edit, 1))) << edit.array << edit.index;
}

TEST(SurveyEdits, AnIdIsRenamedWhereverItIsNamed)
{
    const auto changed = with_id(day_of_work, path, "space", 0, "cab \"1\"");
    ASSERT_TRUE(changed) << to_text(changed.error());
    std::string expected = day_of_work;
    for (auto at = expected.find("\"cab\""); at != std::string::npos; at = expected.find("\"cab\""))
        expected.replace(at, 5, "\"cab \\\"1\\\"\"");
    EXPECT_EQ(*changed, expected);
    const auto back = with_id(*changed, path, "space", 0, "cab");
    ASSERT_TRUE(back);
    EXPECT_EQ(*back, day_of_work);
    EXPECT_FALSE(with_id(day_of_work, path, "sensor", 0, "s"));
}

TEST(SurveyEdits, TasksComeAndGo)
{
    const auto more = with_task(day_of_work, path, 0, {.space = "cab", .position = Position::floor, .hours = 0.5});
    ASSERT_TRUE(more) << to_text(more.error());
    EXPECT_THAT(*more, HasSubstr("    { space = \"cab\", hours = 3.5 },\n"
                                 "    { space = \"cab\", position = \"floor\", hours = 0.5 },\n]\n"));
    const auto back = without_task(*more, path, 0, 2);
    ASSERT_TRUE(back);
    EXPECT_EQ(*back, day_of_work);
    const auto one = without_task(day_of_work, path, 0, 0);
    ASSERT_TRUE(one);
    const auto none = without_task(*one, path, 0, 0);
    ASSERT_TRUE(none) << to_text(none.error());
    EXPECT_EQ(*none, day_of_work.substr(0, day_of_work.find("\n[[exposure]]")));
    EXPECT_FALSE(without_task(day_of_work, path, 0, 2));
    EXPECT_FALSE(with_task(day_of_work, path, 1, {.space = "cab", .hours = 1.0}));
}

TEST(SurveyEdits, TasksWrittenAsTablesComeAndGo)
{
    const std::string tables = R"([[exposure]]
person = "Driver"

  [[exposure.tasks]]
  space = "cab"
  hours = 4
)";
    const auto more = with_task(tables, path, 0, {.space = "cab", .hours = 0.5});
    ASSERT_TRUE(more) << to_text(more.error());
    EXPECT_EQ(*more, tables + "\n  [[exposure.tasks]]\n  hours = 0.5\n  space = \"cab\"\n");
    const auto back = without_task(*more, path, 0, 1);
    ASSERT_TRUE(back);
    EXPECT_EQ(*back, tables);
}

TEST(SurveyEdits, EntriesAreToldAsAPersonTypesThem)
{
    const auto entries = entries_in("[[sensor]]\nid = \"a\"\ncalibrated = 2026-03-01\nuncertainty_percent = 3.50\n"
                                    "[[sensor]]\nid = \"b\"\nlist = [1]\n",
                                    path, "sensor");
    ASSERT_TRUE(entries);
    ASSERT_EQ(entries->size(), 2U);
    EXPECT_EQ((*entries)[0], (EntryTexts{{"id", "a"}, {"calibrated", "2026-03-01"}, {"uncertainty_percent", "3.5"}}));
    EXPECT_EQ((*entries)[1], (EntryTexts{{"id", "b"}}));
    EXPECT_TRUE(entries_in("", path, "sensor")->empty());
    EXPECT_FALSE(entries_in("sensor = 3", path, "sensor"));
}

} // namespace
} // namespace becalm::io

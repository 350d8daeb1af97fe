// The rules themselves: what they catch and what they let pass. Expected values: by the rules in house_rules.h.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/architecture/house_rules.h"
#include "tests/architecture/source_text.h"

using namespace becalm::architecture;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

namespace {

std::vector<std::string> literals(std::string_view source)
{
    std::vector<std::string> result;
    for (const auto& literal : floating_literals_of(source)) result.push_back(literal.text);
    return result;
}

} // namespace

TEST(source_text, comments_and_strings_are_blanked_and_lines_stay)
{
    EXPECT_EQ(without_comments("a // b\nc /* d\ne */ f", Keep::code), "a     \nc     \n     f");
    EXPECT_EQ(without_comments(R"(f("x // y") // z)", Keep::code), R"(f("      ")     )");
    EXPECT_EQ(without_comments(R"(f("x // y") // z)", Keep::code_and_strings), R"(f("x // y")     )");
    EXPECT_EQ(without_comments("R\"m(1.5 \")\" )m\" 2.5", Keep::code), "R\"            \" 2.5");
    EXPECT_EQ(without_comments(R"('"' 1.5 "\"2.5")", Keep::code), R"(' ' 1.5 "     ")");
}

TEST(source_text, floating_literals_are_found_where_they_are_code)
{
    EXPECT_THAT(literals("double a = 0.0715, b = .5, c = 7.15e-2f; // 1.25"), ElementsAre("0.0715", ".5", "7.15e-2f"));
    EXPECT_THAT(literals("int lane_0 = 12; auto b = 0x1e5; f(\"1.5\"); x25.y; 1'000.5;"), ElementsAre("1'000.5"));
    const auto found = floating_literals_of("\n\n1'000.5");
    ASSERT_THAT(found, SizeIs(1));
    EXPECT_EQ(found[0].value, 1000.5);
    EXPECT_EQ(found[0].line, 3);
}

TEST(house_rules, a_room_includes_itself_and_the_rooms_below)
{
    EXPECT_THAT(include_violations("src/io/a.cpp", "#include \"src/base/units.h\"\n#include <vector>"), IsEmpty());
    EXPECT_THAT(include_violations("ui/cli/a.cpp", "#include \"evaluators/assess.h\""), IsEmpty());
    EXPECT_THAT(include_violations("src/io/a.cpp", "#include \"filters/weighting.h\""), SizeIs(1));
    EXPECT_THAT(include_violations("filters/a.h", "#include \"evaluators/pass.h\""), SizeIs(1));
    EXPECT_THAT(include_violations("evaluators/a.cpp", "#include \"ui/cli/run.h\""), SizeIs(1));
    EXPECT_THAT(include_violations("evaluators/a.cpp", "#include \"tests/src/helper.h\""), SizeIs(1));
    EXPECT_THAT(include_violations("evaluators/a.cpp", "// #include \"ui/cli/run.h\""), IsEmpty());
}

TEST(house_rules, includes_are_rooted_at_the_project)
{
    EXPECT_THAT(include_violations("src/io/a.cpp", "#include \"file_hash.h\""), SizeIs(1));
    EXPECT_THAT(include_violations("src/io/a.cpp", "#include \"../base/units.h\""), SizeIs(1));
    EXPECT_THAT(include_violations("src/io/a.cpp", "#include <src/base/units.h>"), SizeIs(1));
}

TEST(house_rules, qt_and_files_stay_where_they_belong)
{
    EXPECT_THAT(include_violations("ui/desktop/a.cpp", "#include <QWidget>"), IsEmpty());
    EXPECT_THAT(include_violations("evaluators/a.cpp", "#include <QtCore/QString>"), SizeIs(1));
    EXPECT_THAT(include_violations("src/base/a.cpp", "#include <QString>"), SizeIs(1));
    EXPECT_THAT(include_violations("filters/a.cpp", "\n#include \"src/io/recording_reader.h\""), SizeIs(1));
    EXPECT_THAT(include_violations("filters/a.cpp", "#include <fstream>"), SizeIs(1));
    EXPECT_THAT(include_violations("evaluators/a.cpp", "#include <sndfile.h>"), SizeIs(1));
}

TEST(house_rules, headers_are_guarded_and_introduced)
{
    EXPECT_THAT(header_violations("src/base/a.h", "// What it is.\n#pragma once\n"), IsEmpty());
    EXPECT_THAT(header_violations("src/base/a.h", "// #pragma once\n"), SizeIs(1));
    EXPECT_THAT(header_violations("src/base/a.h", "#pragma once\n"), SizeIs(1));
}

TEST(house_rules, sources_lie_in_a_folder_of_a_room)
{
    EXPECT_THAT(place_violations("src/io/a.cpp"), IsEmpty());
    EXPECT_THAT(place_violations("filters/a.h"), IsEmpty());
    EXPECT_THAT(place_violations("a.cpp"), SizeIs(1));
    EXPECT_THAT(place_violations("src/a.cpp"), SizeIs(1));
    EXPECT_THAT(place_violations("tools/a.cpp"), SizeIs(1));
    EXPECT_THAT(place_violations("filters/a.hpp"), SizeIs(1));
}

TEST(house_rules, limits_are_read_from_a_criterion)
{
    const std::string_view toml =
        "title = \"below = 7.5\"\n# below = 8.5\n[[scale]]\n"
        "bands = [ { name = \"a\", below = 0.0715 }, { name = \"b\", from=1_000.5, up_to = 2e-1 } ]\n";
    EXPECT_THAT(limits_in_criterion(toml), ElementsAre(0.0715, 1000.5, 0.2));
}

TEST(house_rules, a_limit_is_caught_however_it_is_written)
{
    const std::vector<double> limits{0.0715, 1.6, 0.5, 4.0, 0.1};
    const auto caught = [&](const std::string& path, std::string_view code) {
        return !limit_violations(path, code, limits).empty();
    };
    for (const std::string path : {"src/model/a.cpp", "filters/a.cpp", "evaluators/a.cpp", "ui/cli/a.cpp"}) {
        EXPECT_TRUE(caught(path, "if (value > 0.0715) fail();")) << path;
        EXPECT_TRUE(caught(path, "const float limit = 7.150e-2f;")) << path;
        EXPECT_TRUE(caught(path, "const double limit_mm = 71.5;")) << path;
        EXPECT_FALSE(caught(path, "// above 0.0715 people complain")) << path;
        EXPECT_FALSE(caught(path, "return 0.5 * (a + 4.0 * b) + 0.1;")) << path;
        EXPECT_FALSE(caught(path, "x = 0.0715; // not a limit: a made-up example")) << path;
    }
    EXPECT_TRUE(caught("evaluators/a.cpp", "if (vdv > 1.6) fail();"));
    EXPECT_FALSE(caught("filters/a.cpp", "constexpr double centre_hz = 1.6;"));
}

TEST(house_rules, a_violation_says_where)
{
    const auto violations = limit_violations("evaluators/a.cpp", "\n\nreturn 0.0715;", {0.0715});
    ASSERT_THAT(violations, SizeIs(1));
    EXPECT_EQ(violations[0].file, "evaluators/a.cpp");
    EXPECT_EQ(violations[0].line, 3);
    EXPECT_THAT(violations[0].what, HasSubstr("0.0715"));
}

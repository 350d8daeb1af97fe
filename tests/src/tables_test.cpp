// Tables for others: fields of delimited text, the spreadsheet's limits, the head of an array. What other programs read
// in them is held to the JSON by tests/faces/check_tables.py.
#include <cmath>
#include <filesystem>
#include <limits>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

#include "src/io/atomic_file.h"
#include "src/io/csv_field.h"
#include "src/io/ledger_npy.h"
#include "src/io/table_csv.h"
#include "src/io/table_xlsx.h"
#include "src/io/xlsx_check.h"
#include "src/model/table_pages.h"

#include "tests/src/scratch_folder.h"

namespace becalm::io {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using tests::ScratchFolder;

const std::string formula_signs = "=+-@\t\r\n";

// As the header says it is read again, quotes first [RFC 4180].
std::string read_again(const std::string& field)
{
    std::string text = field;
    if (field.size() >= 2 && field.front() == '"') {
        text.clear();
        for (std::size_t i = 1; i + 1 < field.size(); ++i) {
            text += field[i];
            if (field[i] == '"') ++i;
        }
    }
    const std::size_t begin = text.find_first_not_of(" '");
    const bool marked =
        text.starts_with("'") && begin != std::string::npos &&
        (formula_signs.find(text[begin]) != std::string::npos || text.substr(begin).starts_with("\xEF\xBC"));
    return marked ? text.substr(1) : text;
}

TEST(CsvField, NeverBeginsAFormula)
{
    EXPECT_EQ(csv_field("=1+1"), "'=1+1");
    EXPECT_EQ(csv_field("-3 dB"), "'-3 dB");
    EXPECT_EQ(csv_field("  @x"), "'  @x");
    EXPECT_EQ(csv_field("'=x"), "''=x");
    EXPECT_EQ(csv_field("\xEF\xBC\x9D"
                        "1"),
              "'\xEF\xBC\x9D"
              "1");
    EXPECT_EQ(csv_field("\r=x"), "\"'\r=x\"");
    EXPECT_EQ(csv_field("a=b, 'c'"), "\"a=b, 'c'\"");
    EXPECT_EQ(csv_field("'s"), "'s");
    EXPECT_EQ(csv_field(""), "");
}

RC_GTEST_PROP(CsvField, LosesNothing, ())
{
    const auto text = *rc::gen::container<std::string>(
        rc::gen::oneOf(rc::gen::elementOf(std::string("=+-@\t\r\n '\",;x")), rc::gen::inRange('a', 'z')));
    const std::string field = csv_field(text);
    RC_ASSERT(read_again(field) == text);
    const std::string inside = field.starts_with("\"") ? field.substr(1) : field;
    RC_ASSERT(inside.empty() || formula_signs.find(inside.front()) == std::string::npos);
}

std::vector<std::string> files_under(const std::string& folder)
{
    std::vector<std::string> files;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder))
        if (!entry.is_directory()) files.push_back(entry.path().string());
    return files;
}

TableBook small_book(std::string text = "words", double number = 0.1)
{
    return {.about = {{"title", "=a title"}},
            .tables = {table_of("one", "A row.",
                                {{"text", ColumnKind::prose, "", "words"},
                                 {"number", ColumnKind::measured, "m/s2", "a number"},
                                 {"count", ColumnKind::whole, "", "a count"},
                                 {"truth", ColumnKind::truth, "", "a truth"}},
                                {{text, number, std::int64_t{3}, true}, {Cell(), Cell(), Cell(), Cell()}})}};
}

TEST(TableCsv, WritesWhatReadsBack)
{
    const ScratchFolder folder;
    const double third = 1.0 / 3.0;
    ASSERT_TRUE(write_csv_folder(small_book("-say \"a\"", third), folder.path("csv")));
    // the shortest decimal that is this double again (from memory: that of Python, JavaScript and others)
    EXPECT_EQ(*read_text_file(folder.path("csv/one.csv")),
              "text,number,count,truth\r\n\"'-say \"\"a\"\"\",0.3333333333333333,3,true\r\n,,,\r\n");
    EXPECT_THAT(*read_text_file(folder.path("csv/about.csv")), HasSubstr("title,'=a title,\r\n"));
    EXPECT_THAT(*read_text_file(folder.path("csv/columns.csv")), HasSubstr("one,number,number,m/s2,a number\r\n"));
    const double infinity = std::numeric_limits<double>::infinity();
    ASSERT_TRUE(write_csv_folder(small_book("a", infinity), folder.path("csv")));
    EXPECT_THAT(*read_text_file(folder.path("csv/one.csv")), HasSubstr("a,,3,true\r\n"));
    folder.file("file", "");
    EXPECT_FALSE(write_csv_folder(small_book(), folder.path("file")));
}

TEST(TableXlsx, SaysWhatItCannotHold)
{
    const ScratchFolder folder;
    const auto whole = write_xlsx(small_book(), folder.path("a.xlsx"));
    ASSERT_TRUE(whole) << whole.error().what;
    EXPECT_THAT(whole->left_out, IsEmpty());
    EXPECT_EQ(whole->cut_texts, 0u);
    const auto limited = write_xlsx(small_book(), folder.path("b.xlsx"), {.date = "2026-03-14", .most_rows = 1});
    ASSERT_TRUE(limited);
    EXPECT_THAT(limited->left_out, ElementsAre("one"));
    // 32,767 characters are what a cell holds; a sign outside of the first plane counts twice. (Excel's limit)
    std::string ships;
    for (int i = 0; i < 16'384; ++i) ships += "\xF0\x9F\x9A\xA2";
    for (const auto& [text, cut] : {std::pair(std::string(32'767, 'x'), 0u), std::pair(std::string(32'768, 'x'), 1u),
                                    std::pair(ships.substr(4), 0u), std::pair(ships, 1u)}) {
        const auto written = write_xlsx(small_book(text), folder.path("c.xlsx"));
        ASSERT_TRUE(written) << written.error().what;
        EXPECT_EQ(written->cut_texts, cut) << text.size();
    }
}

TEST(TableXlsx, IsTheSameAgainAndWholeOrNotAtAll)
{
    const ScratchFolder folder;
    // What is no text at all: a broken sequence, a zero, a character that XML does not have.
    const TableBook odd = small_book(std::string("\xC3(\0\xEF\xBF\xBF", 7), std::nan(""));
    ASSERT_TRUE(write_xlsx(odd, folder.path("a.xlsx")));
    ASSERT_TRUE(write_xlsx(odd, folder.path("b.xlsx")));
    EXPECT_EQ(*read_text_file(folder.path("a.xlsx")), *read_text_file(folder.path("b.xlsx")));
    EXPECT_THAT(*read_text_file(folder.path("a.xlsx")), testing::StartsWith("PK"));
    EXPECT_FALSE(write_xlsx(small_book(), folder.path("none/a.xlsx")));
}

// A spreadsheet that lost something on its way is noticed: a byte less or another one anywhere, a cell more or less.
TEST(TableXlsx, NoticesWhatIsNotWhole)
{
    const ScratchFolder folder;
    const std::string path = folder.path("a.xlsx");
    ASSERT_TRUE(write_xlsx(small_book(), path));
    // about: a header of 3, title and text, and 3 of the table; columns: a header of 5, four rows of 5, three without a
    // unit; one: a header of 4, and 4
    // Letters, counted by hand: namerowstext, title=a title, table oneA row.2; ...; textnumbercounttruth, words0.131.
    const std::vector<XlsxSheet> cells{
        {3 + 2 + 3, 12 + 13 + 16}, {5 + 4 * 5 - 3, 26 + 16 + 27 + 27 + 28}, {4 + 4, 20 + 10}};
    EXPECT_EQ(fault_of_xlsx(path, cells), "");
    EXPECT_THAT(fault_of_xlsx(path, {cells[0], cells[1], {9, 30}}), HasSubstr("has 8 cells instead of 9"));
    EXPECT_THAT(fault_of_xlsx(path, {cells[0], cells[1], {8, 31}}), HasSubstr("has 30 bytes of text instead of 31"));
    EXPECT_THAT(fault_of_xlsx(path, {cells[0], cells[1], cells[2], {1, 1}}), HasSubstr("parts missing"));
    // What XML writes otherwise: signs of its own, ends of lines, controls, letters of several bytes, long fractions.
    EXPECT_TRUE(write_xlsx(small_book("a<b>&\"'\r\n\t\x01\x1f\x7f_x0041_ \xC3\xA9 ", -1.0 / 3e-200), path));
    const std::string whole = *read_text_file(path);
    folder.file("b.xlsx", whole.substr(0, whole.size() / 2));
    EXPECT_NE(fault_of_xlsx(folder.path("b.xlsx"), cells), "");
    std::string damaged = whole;
    damaged[damaged.find("xl/worksheets/sheet3.xml") + 60] ^= 4; // among its packed bytes
    folder.file("c.xlsx", damaged);
    EXPECT_THAT(fault_of_xlsx(folder.path("c.xlsx"), cells), HasSubstr("sheet3.xml is not whole"));
    EXPECT_NE(fault_of_xlsx(folder.path("none.xlsx"), cells), "");
}

TEST(Tables, StoppedWriteNothing)
{
    const ScratchFolder folder;
    std::stop_source source;
    source.request_stop();
    EXPECT_FALSE(write_xlsx(small_book(), folder.path("a.xlsx"), {}, source.get_token()));
    EXPECT_FALSE(write_csv_folder(small_book(), folder.path("csv"), source.get_token()));
    EXPECT_THAT(files_under(folder.path()), IsEmpty());
}

// numpy.lib.format, version 1.0: magic, version, length of the header in two bytes, the header ends in a new line and
// the data begin at a multiple of 64.
TEST(LedgerNpy, HeaderIsThatOfTheFormat)
{
    for (const std::uint64_t rows : {std::uint64_t{0}, std::uint64_t{1}, std::uint64_t{31'536'000}}) {
        const std::string header = npy_header(fields_of_ledger(), rows);
        EXPECT_THAT(header, testing::StartsWith(std::string("\x93NUMPY\x01\x00", 8)));
        EXPECT_EQ(header.size() % 64, 0u);
        const auto length = static_cast<unsigned char>(header[8]) + 256u * static_cast<unsigned char>(header[9]);
        EXPECT_EQ(header.size(), length + 10u);
        EXPECT_EQ(header.back(), '\n');
        EXPECT_THAT(header, HasSubstr("('second', '<i8'), "));
        EXPECT_THAT(header, HasSubstr(fmt::format("'fortran_order': False, 'shape': ({},), }}", rows)));
    }
}

} // namespace
} // namespace becalm::io

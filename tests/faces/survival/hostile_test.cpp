// Files made to hurt: headers that lie, nesting without end, bombs, lines without end, paths that lead elsewhere, names
// that are formulas. Refused with words, in little memory; nothing is read or written that was not named.
#include <algorithm>
#include <filesystem>
#include <zlib.h>

#include <gmock/gmock.h>
#include <sys/stat.h>

#include "tests/faces/cli_harness.h"
#include "tests/faces/survival/jobs.h"

namespace becalm::tests {
namespace {

using testing::AnyOf;
using testing::HasSubstr;
using testing::MatchesRegex;
using testing::Not;

namespace fs = std::filesystem;

// ---- memory ----

constexpr long ceiling_kb = 256 * 1024; // not a limit: what a hostile file may cost at most

std::string number(std::uint64_t value, int bytes)
{
    std::string text;
    append(text, value, bytes);
    return text;
}

std::string repeated(const std::string& text, std::size_t times)
{
    std::string all;
    all.reserve(text.size() * times);
    for (std::size_t i = 0; i < times; ++i) all += text;
    return all;
}

// A WAV or RF64 header; `data` bytes are promised.
std::string wave_header(std::uint64_t channels, std::uint64_t data, bool rf64 = false)
{
    std::string bytes = rf64 ? "RF64" : "RIFF";
    bytes += number(0xFFFFFFFF, 4) + "WAVE";
    if (rf64) bytes += "ds64" + number(28, 4) + number(data, 8) + number(data, 8) + number(data / 4, 8) + number(0, 4);
    bytes += "fmt " + number(16, 4) + number(3, 2) + number(channels, 2) + number(1000, 4) +
             number(4 * channels * 1000, 4) + number(4 * channels, 2) + number(32, 2);
    return bytes + "data" + number(rf64 ? 0xFFFFFFFF : data, 4) + std::string(4096, '\1');
}

// MATLAB version 5 [MAT-File Format, "Level 5 MAT-Files"].
std::string mat_head() { return fmt::format("{:<124}", "MATLAB 5.0 MAT-file") + number(0x0100, 2) + "IM"; }
std::string element(std::uint64_t type, const std::string& content)
{
    return number(type, 4) + number(content.size(), 4) + content + std::string((8 - content.size() % 8) % 8, '\0');
}
std::string matrix(std::uint64_t what, std::uint64_t rows, std::uint64_t columns, const std::string& content,
                   const std::string& name = "x")
{
    return element(14, element(6, number(what, 8)) + element(5, number(rows, 4) + number(columns, 4)) +
                           element(1, name) + content);
}
std::string deflated(const std::string& bytes)
{
    uLongf size = ::compressBound(bytes.size());
    std::string packed(size, '\0');
    ::compress2(reinterpret_cast<Bytef*>(packed.data()), &size, reinterpret_cast<const Bytef*>(bytes.data()),
                bytes.size(), 1);
    packed.resize(size);
    return number(15, 4) + number(packed.size(), 4) + packed;
}
// A matrix of doubles whose zeros pack to a thousandth.
std::string bomb(std::uint64_t megabytes)
{
    const std::uint64_t count = megabytes << 17;
    std::string matrix_head = element(6, number(6, 8)) + element(5, number(count, 4) + number(1, 4)) + element(1, "x") +
                              number(9, 4) + number(8 * count, 4);
    matrix_head = number(14, 4) + number(matrix_head.size() + 8 * count, 4) + matrix_head;
    z_stream stream{};
    ::deflateInit(&stream, 1);
    std::string packed(std::size_t{8} << 20, '\0'), block(1 << 20, '\0');
    stream.next_out = reinterpret_cast<Bytef*>(packed.data());
    stream.avail_out = static_cast<uInt>(packed.size());
    const auto give = [&](std::string& bytes, int how) {
        stream.next_in = reinterpret_cast<Bytef*>(bytes.data());
        stream.avail_in = static_cast<uInt>(bytes.size());
        ::deflate(&stream, how);
    };
    give(matrix_head, Z_NO_FLUSH);
    for (std::uint64_t i = 0; i < megabytes; ++i) give(block, Z_NO_FLUSH);
    std::string none;
    give(none, Z_FINISH);
    packed.resize(stream.total_out);
    ::deflateEnd(&stream);
    return mat_head() + number(15, 4) + number(packed.size(), 4) + packed;
}

// Every 300 of the file, its number of rows, becomes 2^40, among them those of chunks and of data.
std::string v73_with_rows_that_lie()
{
    std::string bytes = content_of(BECALM_TEST_DATA "/reference/mat_files/v73-deflated.mat");
    const std::string from = number(300, 8), to = number(std::uint64_t{1} << 40, 8);
    for (auto at = bytes.find(from); at != std::string::npos; at = bytes.find(from, at + 1)) bytes.replace(at, 8, to);
    return bytes;
}

struct Hostile {
    std::string name = {};
    std::string content = {};
    std::uint64_t sparse = 0; // bytes of zeros behind it
};

std::vector<Hostile> hostile_recordings()
{
    const std::uint64_t huge = std::uint64_t{1} << 60;
    std::string cells = matrix(6, 1, 1, element(9, number(0, 8)), "");
    for (int depth = 0; depth < 2000; ++depth) cells = matrix(1, 1, 1, cells, "");
    std::string seed =
        "000001D XXXXX  HHZXX" + number(0x0707, 2) + number(0x0100, 2) + std::string(6, '\0'); // [SEED 2.4]
    seed += "\xFF\xFF\x7F\xFF\x7F\xFF" + std::string(1, '\0') + std::string(2, '\0') + "\x01" + std::string(4, '\0') +
            std::string("\0\x40\0\x30", 4);
    seed += std::string("\x03\xE8\0\0\x0B\x01\x1E\0", 8);
    return {
        {"channels.wav", wave_header(65'535, 0xFFFFFF00)},
        {"rows.rf64", wave_header(1, huge, true)},
        {"flac.flac", std::string("fLaC") +
                          std::string("\x80\0\0\x22\x10\0\x10\0\0\0\0\0\0\0\x03\xE8\x0F\xFF\xFF\xFF\xFF\xFF", 22) +
                          std::string(4096, '\1')},
        {"line.csv", "time,z\n0,1\n0.001,", std::uint64_t{1} << 30},
        {"line2.csv", std::string(1, '1'), std::uint64_t{1} << 30},
        {"digits.csv", "time,z\n0," + std::string(std::size_t{80} << 20, '1') + "\n"},
        {"columns.csv", repeated("1,", std::size_t{8} << 20) + "\n" + repeated("1,", std::size_t{8} << 20) + "\n"},
        {"v5-rows.mat", mat_head() + matrix(6, 0x7FFFFFFF, 0x7FFFFFFF, number(9, 4) + number(0xFFFFFFF8, 4))},
        {"v5-cells.mat", mat_head() + matrix(1, 0x7FFFFFFF, 1, "")},
        {"v5-deep.mat", mat_head() + cells},
        {"v5-deep-packed.mat", mat_head() + deflated(cells)},
        {"v5-bomb.mat", bomb(256)},
        {"v73.mat", v73_with_rows_that_lie()},
        {"mini.mseed", repeated(seed + std::string(2048 - 56, '\x7F'), 4)},
        {"tdms.tdms", "TDSm" + number(0x0E, 4) + number(4713, 4) + number(huge, 8) + number(huge, 8) +
                          number(0xFFFFFFF0, 4) + std::string(4096, '\1')},
        {"uff.uff", "    -1\n    58\nNONE\nNONE\nNONE\nNONE\nNONE\n    1         1    0         0 NONE               1 "
                    "  3 NONE       0   0\n"
                    "         2 999999999         1  0.00000E+00  1.00000E-03  0.00000E+00\n" +
                        std::string(4096, ' ')},
        {"sac.sac", std::string(316, '\1') + number(0x7FFFFFFF, 4) + std::string(4096, '\1')},
        {"part.recording.toml", "becalm_recording = 1\n[[part]]\nfiles = [" + repeated("\"a.wav\",", 200'000) + "]\n"},
    };
}

TEST(Hostile, RecordingsAreRefusedInLittleMemory)
{
    const ScratchFolder folder;
    long most = 0;
    for (const Hostile& one : hostile_recordings()) {
        const std::string file = folder.file(one.name, one.content);
        if (one.sparse > 0) fs::resize_file(file, one.sparse);
        const Ending ending =
            run({"weigh", file, "--weighting", "Wk", "--axes", "1=z", "--scale", "1"}, {.folder = folder.path()});
        SCOPED_TRACE(one.name + ": " + ending.err.substr(0, 500));
        EXPECT_FALSE(ending.hung);
        EXPECT_EQ(ending.signal, 0);
        EXPECT_FALSE(ending.killed);
        EXPECT_LT(ending.peak_kb, ceiling_kb);
        most = std::max(most, ending.peak_kb);
        if (one.name == "v5-bomb.mat") { // what it holds is a recording, if a dull one
            EXPECT_THAT(ending.code, AnyOf(0, 3));
        } else {
            EXPECT_EQ(ending.code, 3);
            EXPECT_THAT(ending.err, MatchesRegex("becalm: [^\n]*" + one.name + "[^\n]*: [^\n]+; [^\n]+\n"));
        }
        EXPECT_LT(ending.err.size(), 2000U); // what is quoted of it is short
        fs::remove(file);
    }
    std::printf("at most %ld MB\n", most / 1024);
}

TEST(Hostile, DocumentsAreRefusedInLittleMemory)
{
    const ScratchFolder folder;
    const std::string head = "title = \"t\"\nsetting = \"building\"\n";
    const std::size_t much = 200'000;
    long most = 0;
    const std::vector<Hostile> documents{
        {"arrays", head + "a = " + std::string(much, '[')},
        {"whole arrays", head + "a = " + std::string(much, '[') + std::string(much, ']')},
        {"tables", head + "a = " + repeated("{a=", much)},
        {"dotted", head + repeated("a.", much) + "a = 1\n"},
        {"dotted head", head + "[" + repeated("a.", much) + "a]\n"},
        {"numbers", head + "a = [" + repeated("1,", std::size_t{30} << 20) + "]\n"},
        {"spaces", head + repeated("[[space]]\n", 400'000)},
        {"text", head + "note = \"" + std::string(std::size_t{60} << 20, 'x') + "\"\n"},
        {"zeros", head, std::uint64_t{1} << 30},
    };
    for (const Hostile& one : documents) {
        const std::string file = folder.file("survey.toml", one.content);
        if (one.sparse > 0) fs::resize_file(file, one.sparse);
        for (const std::vector<std::string>& call : {std::vector<std::string>{"assess", file},
                                                     {"criteria", "check", file},
                                                     {"weigh", file, "--weighting", "Wk"}}) {
            if (call.front() != "assess" && one.content.size() > (std::size_t{4} << 20)) continue;
            const Ending ending = run(call);
            SCOPED_TRACE(one.name + ", " + call.front() + ": " + ending.err.substr(0, 500));
            EXPECT_FALSE(ending.hung);
            EXPECT_EQ(ending.signal, 0);
            EXPECT_FALSE(ending.killed);
            EXPECT_LT(ending.peak_kb, ceiling_kb);
            most = std::max(most, ending.peak_kb);
            EXPECT_THAT(ending.code, AnyOf(2, 3));
            EXPECT_THAT(ending.err, HasSubstr("survey.toml"));
            EXPECT_LT(ending.err.size(), 100'000U);
        }
    }
    std::printf("at most %ld MB\n", most / 1024);
}

// ---- paths ----

std::string survey_of(const std::string& file)
{
    return "title = \"t\"\nsetting = \"building\"\n[[space]]\nid = \"a\"\nuse = \"office\"\n[[recording]]\nfile = \"" +
           file + "\"\nspace = \"a\"\nchannels = { 1 = \"z\" }\n[[judge]]\ncriteria = [\"iso2631-2-2003\"]\n";
}

// A survey names its files, and may name them anywhere; what it names must be a regular file, and is never waited for.
TEST(Paths, OfASurvey)
{
    const ScratchFolder folder;
    fs::create_directories(folder.path("s/below"));
    fs::create_directory(folder.path("s/folder.wav"));
    const std::string recording = folder.file("outside.wav", tiny_recording(1));
    fs::copy_file(recording, folder.path("s/below/a.wav"));
    fs::create_symlink(recording, folder.path("s/link.wav"));
    fs::create_symlink("/dev/zero", folder.path("s/zero.wav"));
    fs::create_symlink("circle.wav", folder.path("s/circle.wav"));
    fs::create_symlink("nowhere", folder.path("s/nowhere.wav"));
    ASSERT_EQ(::mkfifo(folder.path("s/pipe.wav").c_str(), 0600), 0);
    const auto assess = [&](const std::string& file) {
        return run({"assess", folder.file("s/survey.toml", survey_of(file)), "--no-cache"});
    };
    for (const std::string& file :
         {std::string("../outside.wav"), recording, std::string("link.wav"), std::string("below/../below/a.wav")}) {
        const Ending ending = assess(file);
        EXPECT_EQ(ending.code, 0) << file << ending.err;
    }
    for (const auto& [file, why] : std::vector<std::pair<std::string, std::string>>{
             {"pipe.wav", "this is a pipe, not a regular file; copy its data to a file first"},
             {"zero.wav", "this is a device, not a regular file; copy its data to a file first"},
             {"/dev/zero", "this is a device, not a regular file; copy its data to a file first"},
             {"/dev/stdin", "this is a device, not a regular file; copy its data to a file first"},
             {"folder.wav", "this is a folder, not a regular file; name a file in it"},
             {"..", "this is a folder, not a regular file; name a file in it"},
             {"circle.wav", "its symbolic links run in a circle; mend the links"},
             {"nowhere.wav", "there is no such file; check the name and the folder"},
             {"below/a.wav/b.wav", "a part of this path is a file, not a folder; check the path"}}) {
        const Ending ending = assess(file);
        EXPECT_EQ(ending.code, 3) << file;
        EXPECT_FALSE(ending.hung);
        EXPECT_EQ(ending.err, fmt::format("becalm: {}:6: {}: {}\n", folder.path("s/survey.toml"), file, why));
    }
    for (const char* file : {"s/pipe.wav", "s/folder.wav", "s/zero.wav"}) {
        const Ending ending = run({"assess", folder.path(file)});
        EXPECT_EQ(ending.code, 3);
        EXPECT_THAT(ending.err, MatchesRegex("becalm: [^\n]+: this is [^\n]+; [^\n]+\n"));
    }
}

TEST(Paths, OfOutputs)
{
    const ScratchFolder folder;
    const std::string survey = write_tiny_survey(folder.path());
    const auto assess = [&](const std::string& target) {
        return run({"assess", survey, "--no-cache", "--json", target});
    };
    EXPECT_EQ(assess("-").out.substr(0, 2), "{\n");
    folder.file("target.json", "old");
    fs::create_symlink("target.json", folder.path("link.json"));
    EXPECT_EQ(assess(folder.path("link.json")).code, 0);
    EXPECT_TRUE(fs::is_symlink(folder.path("link.json")));
    EXPECT_EQ(content_of(folder.path("target.json")), assess("-").out);
    fs::create_symlink("/dev/full", folder.path("full.json"));
    ASSERT_EQ(::mkfifo(folder.path("pipe.json").c_str(), 0600), 0);
    const std::string full = folder.path("full.json"), pipe = folder.path("pipe.json");
    for (const std::string& target : {std::string("/dev/full"), full, pipe}) {
        const Ending ending = assess(target);
        EXPECT_EQ(ending.code, 3);
        EXPECT_EQ(ending.err, "becalm: " + target + ": this is not a regular file; name a file\n");
    }
    EXPECT_EQ(assess(folder.path()).err,
              "becalm: " + folder.path() + ": this is a folder, not a regular file; name a file in it\n");
    EXPECT_EQ(assess("/dev/stdout").code, 2);
    EXPECT_EQ(assess("/proc/self/fd/1").code, 2);
    // The output itself on a full disk.
    const std::string line = fmt::format("'{}' assess '{}' --no-cache --json - > /dev/full", BECALM_PROGRAM, survey);
    ::setenv("BECALM_DATA", small_data().c_str(), 1);
    EXPECT_EQ(WEXITSTATUS(std::system((line + " 2> '" + folder.path("err") + "'").c_str())), 3);
    EXPECT_EQ(content_of(folder.path("err")),
              "becalm: the output could not be written; is the disk full or the reader gone?\n");
}

// A stream that the caller closed: the next file that is opened has its number, and must not get what was meant for it.
TEST(Paths, ClosedStreamsDoNotRunIntoResults)
{
    const ScratchFolder folder;
    const std::string survey = write_tiny_survey(folder.path());
    ASSERT_EQ(run({"assess", survey, "--json", folder.path("a.json"), "--csv", folder.path("a.csv")}).code, 0);
    ::setenv("BECALM_DATA", small_data().c_str(), 1);
    for (const auto& [how, code] :
         {std::pair("<&-", 0), std::pair(">&-", 3), std::pair("2>&-", 0), std::pair("<&- >&- 2>&-", 3)})
        for (const char* cache : {"--no-cache", "--jobs 1"}) {
            const std::string line = fmt::format("'{}' assess '{}' {} --json '{}' --csv '{}' {}", BECALM_PROGRAM,
                                                 survey, cache, folder.path("b.json"), folder.path("b.csv"), how);
            const bool quiet = std::string(how).starts_with("<&-") || std::string(how).starts_with("2");
            EXPECT_EQ(WEXITSTATUS(std::system((quiet && code == 0 ? line + " > /dev/null" : line).c_str())), code)
                << how;
            EXPECT_EQ(content_of(folder.path("b.json")), content_of(folder.path("a.json"))) << how;
            EXPECT_EQ(content_of(folder.path("b.csv")), content_of(folder.path("a.csv"))) << how;
            fs::remove(folder.path("b.json"));
            fs::remove_all(folder.path(".becalm"));
        }
    const Ending after = run({"assess", survey, "--json", folder.path("b.json")});
    EXPECT_EQ(after.err, "");
    EXPECT_EQ(content_of(folder.path("b.json")), content_of(folder.path("a.json")));
}

// What is read is not written over, whatever it is called.
TEST(Paths, NothingThatIsReadIsReplaced)
{
    const ScratchFolder folder;
    const std::string survey = write_tiny_survey(folder.path());
    fs::create_symlink("survey.toml", folder.path("link.toml"));
    fs::create_hard_link(folder.path("a.wav"), folder.path("hard.wav"));
    const auto before = listing_of(folder.path());
    for (const std::vector<std::string>& call : std::vector<std::vector<std::string>>{
             {"assess", survey, "--json", survey},
             {"assess", survey, "--csv", folder.path("link.toml")},
             {"assess", survey, "--json", folder.path("./b.wav")},
             {"report", survey, "--html", folder.path("hard.wav")},
             {"report", survey, "--pdf", folder.path("a.wav")},
             {"weigh", folder.path("a.wav"), "--weighting", "Wk", "--json", folder.path("a.wav")},
             {"spectrum", folder.path("a.wav"), "--spectrogram", folder.path("a.wav")},
             {"history", folder.path("a.wav"), "--as", "acceleration", "--csv", folder.path("a.wav")},
             {"convert", folder.path("a.wav"), "--uff", folder.path("a.wav")},
             {"tables", survey, "--xlsx", survey}}) {
        const Ending ending = run(call);
        EXPECT_EQ(ending.code, 2) << call.at(0) << " " << call.at(3) << ending.err;
        EXPECT_THAT(ending.err,
                    MatchesRegex("becalm: --[a-z]+ [^\n]+ would replace a file that is read; give it another name\n"));
        EXPECT_EQ(listing_of(folder.path()), before);
    }
    const Ending twice = run({"report", survey, "--html", folder.path("r"), "--pdf", folder.path("./r")});
    EXPECT_EQ(twice.code, 2);
    EXPECT_THAT(twice.err, HasSubstr("--html and --pdf both go to "));
}

// Nothing is written but what was named and what lies beside it for a moment; no process is started, no connection
// made.
TEST(Paths, NothingElseIsWrittenAndNobodyIsCalled)
{
    for (const Job& job : jobs()) {
        const Stage stage(job);
        stage.reset();
        const Ending ending = stage.run({{"FAULTS_KIND", "write"}});
        EXPECT_EQ(ending.code, 0);
        EXPECT_THAT(ending.told, Not(HasSubstr("forbidden"))) << job.name;
        EXPECT_THAT(ending.told, Not(HasSubstr("outside"))) << job.name;
        EXPECT_EQ(stage.faults_of_files(), "");
    }
}

// ---- formulas ----

std::string part_of_zip(const std::string& zip, const std::string& name)
{
    // From the listing at the end [APPNOTE.TXT, 4.3.12]; sizes in local headers may be left open.
    const auto field = [&](std::size_t at, int bytes) {
        std::uint64_t value = 0;
        for (int i = 0; i < bytes; ++i)
            value |= std::uint64_t{static_cast<unsigned char>(zip[at + static_cast<std::size_t>(i)])} << (8 * i);
        return static_cast<std::size_t>(value);
    };
    for (auto at = zip.find("PK\x01\x02"); at != std::string::npos; at = zip.find("PK\x01\x02", at + 4)) {
        if (zip.substr(at + 46, field(at + 28, 2)) != name) continue;
        const std::size_t begin =
            field(at + 42, 4) + 30 + field(field(at + 42, 4) + 26, 2) + field(field(at + 42, 4) + 28, 2);
        std::string plain(field(at + 24, 4), '\0');
        z_stream stream{};
        ::inflateInit2(&stream, -MAX_WBITS);
        stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(zip.data()) + begin);
        stream.avail_in = static_cast<uInt>(field(at + 20, 4));
        stream.next_out = reinterpret_cast<Bytef*>(plain.data());
        stream.avail_out = static_cast<uInt>(plain.size());
        ::inflate(&stream, Z_FINISH);
        ::inflateEnd(&stream);
        return plain;
    }
    return {};
}

// Cells of CSV as a spreadsheet takes them apart [RFC 4180].
std::vector<std::string> cells_of(const std::string& csv)
{
    std::vector<std::string> cells{""};
    bool quoted = false;
    for (std::size_t i = 0; i < csv.size(); ++i) {
        if (csv[i] == '"') {
            if (quoted && i + 1 < csv.size() && csv[i + 1] == '"')
                cells.back() += csv[i++];
            else
                quoted = !quoted;
        } else if (!quoted && (csv[i] == ',' || csv[i] == '\n')) {
            cells.emplace_back();
        } else {
            cells.back() += csv[i];
        }
    }
    return cells;
}

TEST(Formulas, AreTextsInEverythingExported)
{
    const ScratchFolder folder;
    const std::vector<std::string> names{"=cmd|'/c calc'!A0", "+1+1", "-2+3",
                                         "@SUM(1)",           "\t=1", "=HYPERLINK(\\\"http://x\\\")"};
    std::string survey = "title = \"=TITLE()\"\nsetting = \"building\"\nnote = \"@note\"\n";
    std::string second = survey;
    for (std::size_t i = 0; i < names.size(); ++i) {
        folder.file(fmt::format("={}.wav", i), tiny_recording(static_cast<unsigned>(i)));
        survey += fmt::format(
            "[[space]]\nid = \"{0}\"\nlabel = \"<script>alert(1)</script>{0}\"\nuse = \"office\"\n[[recording]]\n"
            "file = \"={1}.wav\"\nspace = \"{0}\"\nposition = \"floor\"\nchannels = {{ 1 = \"z\" }}\n",
            names[i], i);
    }
    survey += "[[judge]]\ncriteria = [\"iso2631-2-2003\"]\n";
    const std::string file = folder.file("survey.toml", survey);
    const Ending judged = run({"assess", file, "--csv", folder.path("a.csv"), "--json", folder.path("a.json")});
    ASSERT_EQ(judged.code, 0) << judged.err;
    ASSERT_EQ(run({"tables", file, "--csv", folder.path("t"), "--xlsx", folder.path("t.xlsx")}).code, 0);
    ASSERT_EQ(run({"compare", folder.path("a.json"), folder.path("a.json"), "--csv", folder.path("c.csv")}).code, 0);
    ASSERT_EQ(run({"report", file, "--html", folder.path("r.html")}).code, 0);
    std::vector<std::string> tables{folder.path("a.csv"), folder.path("c.csv")};
    for (const auto& entry : fs::directory_iterator(folder.path("t"))) tables.push_back(entry.path().string());
    int dangerous = 0;
    for (const std::string& table : tables)
        for (const std::string& cell : cells_of(content_of(table))) {
            const auto begin = cell.find_first_not_of(" ");
            if (begin == std::string::npos || std::string("=+-@\t\r").find(cell[begin]) == std::string::npos) {
                dangerous += cell.starts_with("'") ? 1 : 0;
                continue;
            }
            char* end = nullptr;
            static_cast<void>(std::strtod(cell.c_str() + begin, &end)); // a negative number is one
            EXPECT_TRUE(cell == "\r" || *end == '\0' || *end == '\r') << table << ": " << cell;
        }
    EXPECT_GT(dangerous, 20);

    const std::string book = content_of(folder.path("t.xlsx"));
    for (const char* word : {"vbaProject", "macrosheets", "externalLinks", ".bin"})
        EXPECT_THAT(book, Not(HasSubstr(word)));
    int sheets = 0;
    for (int i = 1;; ++i) {
        const std::string sheet = part_of_zip(book, fmt::format("xl/worksheets/sheet{}.xml", i));
        if (sheet.empty()) break;
        ++sheets;
        for (const char* word : {"<f>", "<f ", "<hyperlink", "t=\"str\"", "<ddeLink"})
            EXPECT_THAT(sheet, Not(HasSubstr(word)));
    }
    EXPECT_GT(sheets, 4);
    EXPECT_THAT(part_of_zip(book, "[Content_Types].xml"), Not(HasSubstr("macroEnabled")));
    const std::string html = content_of(folder.path("r.html"));
    EXPECT_THAT(html, Not(HasSubstr("<script")));
    EXPECT_THAT(html, HasSubstr("&lt;script"));
}

} // namespace
} // namespace becalm::tests

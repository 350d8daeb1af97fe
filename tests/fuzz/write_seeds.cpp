// The corpora that fuzzing starts from, made afresh: write_seeds FOLDER makes FOLDER/<format>/<seed>. Small files, each
// with something of its own: a coding, a byte order, a chunk, a dialect.
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <functional>
#include <libmseed.h>
#include <sndfile.h>
#include <stdexcept>
#include <string>
#include <string_view>
#include <unistd.h>
#include <vector>

#include <fmt/format.h>

#include "src/io/criterion_file.h"
#include "src/io/json_out.h"
#include "src/io/ledger_folder.h"
#include "src/io/survey_file.h"
#include "src/io/uff_writer.h"

namespace {

namespace fs = std::filesystem;
using namespace becalm;

class Corpus {
public:
    Corpus(const fs::path& folder, std::string_view format) : folder_(folder / format)
    {
        fs::create_directories(folder_);
    }

    fs::path next() { return folder_ / fmt::format("{:03}", ++count_); }

    void add(std::string_view bytes)
    {
        std::ofstream(next(), std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    }

    void add_file(const fs::path& file) { fs::copy_file(file, next(), fs::copy_options::overwrite_existing); }

private:
    fs::path folder_;
    int count_ = 0;
};

void write_audio(Corpus corpus)
{
    for (const int container :
         std::vector<int>{SF_FORMAT_WAV, SF_FORMAT_WAVEX, SF_FORMAT_RF64, SF_FORMAT_W64, SF_FORMAT_FLAC, SF_FORMAT_AIFF,
                          SF_FORMAT_CAF, SF_FORMAT_WAV | SF_ENDIAN_BIG})
        for (const int coding : {SF_FORMAT_PCM_U8, SF_FORMAT_PCM_S8, SF_FORMAT_PCM_16, SF_FORMAT_PCM_24,
                                 SF_FORMAT_PCM_32, SF_FORMAT_FLOAT, SF_FORMAT_DOUBLE, SF_FORMAT_ULAW}) {
            SF_INFO info{.frames = 0,
                         .samplerate = 1000,
                         .channels = 3,
                         .format = container | coding,
                         .sections = 0,
                         .seekable = 0};
            if (sf_format_check(&info) == SF_FALSE) continue;
            SNDFILE* file = sf_open(corpus.next().c_str(), SFM_WRITE, &info);
            if (file == nullptr) continue;
            if (container == SF_FORMAT_WAV) {
                SF_BROADCAST_INFO start{};
                std::snprintf(start.origination_date, sizeof start.origination_date, "2026-03-14");
                std::snprintf(start.origination_time, sizeof start.origination_time, "09:30:00");
                sf_command(file, SFC_SET_BROADCAST_INFO, &start, sizeof start);
            }
            std::vector<double> values(3 * 40);
            for (std::size_t i = 0; i < values.size(); ++i) values[i] = 0.5 * std::sin(0.3 * static_cast<double>(i));
            sf_writef_double(file, values.data(), 40);
            sf_close(file);
        }
}

void write_text(Corpus corpus)
{
    corpus.add("# rate_hz: 1000\nx,y,z\nm/s2,m/s2,m/s2\n1,2,3\n-0.5,1e-3,+4\n");
    corpus.add("Zeit;Kanal 1;Kanal 2\ns;mm/s2;mm/s2\n0,000;1,5;2\n0,001;-1,5;2,25\n0,002;3;nan\n");
    corpus.add("t\tz\n0.0\t1.0\r\n0.5\t2.0\r\n1.0\t3.0\r\n");
    corpus.add("  0.00   1.0  2.0\n  0.01   1.5  2.5\n  0.02   1.0  2.0\n");
    corpus.add("\xef\xbb\xbfSample rate: 512 Hz\nvertical [g]\n1\n2\n3\n");
    corpus.add("Start: 2026-03-14T09:30:00\nSensitivity [mV/g]: 100\nstamp,x [g],y [mg]\n"
               "2026-03-14T09:30:00.125Z,1,2\n2026-03-14T09:30:00.250Z,3,4\n");
    corpus.add("Datum;Uhrzeit;x\n14.03.2026;09:30:00,125;\"1,5\"\n14.03.2026;09:30:00,250;\"2,0\"\n");
    corpus.add("23:59:59.9 1.5\n00:00:00.0 2.5\n");
    corpus.add(std::string_view("\xff\xfe"
                                "t\0;\0z\0\n\0"
                                "0\0;\0"
                                "1\0\n\0"
                                "1\0;\0"
                                "2\0\n\0",
                                24));
    corpus.add("time_ms,a\n0,1\n1,2\n2,1\n3,2\n");
}

template <class T>
std::string little(T value)
{
    std::string bytes(sizeof value, '\0');
    std::memcpy(bytes.data(), &value, sizeof value);
    return bytes;
}

// Dataset 58b from the program's own writer, and one of text (Universal File Formats, dataset 58).
void write_uff(Corpus corpus)
{
    const fs::path written = corpus.next();
    if (auto writer = io::UffWriter::create(written.string(), {.rate_hz = 1000.0,
                                                               .frames = 20,
                                                               .title = "a floor",
                                                               .start = "2026-03-14T09:30:00",
                                                               .channels = {{.name = "x"}, {.name = "z"}}})) {
        writer->add(std::vector<double>(40, 0.25));
        (void)writer->finish();
    }
    std::string text = "    -1\n    58\nfloor\nNONE\n14-MAR-26 09:30:00\nNONE\nNONE\n";
    text += "    1         0    0         0       NONE        12   3       NONE         0   0\n";
    text += "         2         4         1  0.00000E+00  1.00000E-03  0.00000E+00\n";
    text += "        17    0    0    0                TIME                   s\n";
    text += "        12    0    0    0        ACCELERATION                m/s2\n";
    text += "         0    0    0    0                NONE                NONE\n";
    text += "         0    0    0    0                NONE                NONE\n";
    text += "  1.00000E+00  2.00000E+00 -1.00000E+00  5.00000E-01\n    -1\n";
    corpus.add(text);
}

// A whole number of records, several codings, through libmseed.
void write_miniseed(Corpus corpus)
{
    for (const int encoding : {DE_STEIM1, DE_STEIM2, DE_INT32, DE_FLOAT32, DE_FLOAT64}) {
        std::string bytes;
        for (const char* channel : {"HNN", "HNZ"}) {
            MSRecord* record = msr_init(nullptr);
            std::snprintf(record->network, sizeof record->network, "XX");
            std::snprintf(record->station, sizeof record->station, "DECK5");
            std::snprintf(record->channel, sizeof record->channel, "%s", channel);
            record->dataquality = 'D';
            record->reclen = 256;
            record->encoding = static_cast<std::int8_t>(encoding);
            record->byteorder = 1;
            record->samprate = 100.0;
            record->starttime = 1'922'000'000'000'000;
            constexpr int count = 60;
            record->numsamples = count;
            const auto fill = [&]<class T>(T /*kind*/, char type) {
                T* samples = static_cast<T*>(std::malloc(count * sizeof(T)));
                for (int i = 0; i < count; ++i) samples[i] = static_cast<T>((i * 37) % 101);
                record->datasamples = samples;
                record->sampletype = type;
            };
            if (encoding == DE_FLOAT32)
                fill(float{}, 'f');
            else if (encoding == DE_FLOAT64)
                fill(double{}, 'd');
            else
                fill(std::int32_t{}, 'i');
            std::int64_t samples = 0;
            const auto keep = [](char* packed, int length, void* into) {
                static_cast<std::string*>(into)->append(packed, static_cast<std::size_t>(length));
            };
            msr_pack(record, keep, &bytes, &samples, 1, 0);
            msr_free(&record);
        }
        corpus.add(bytes);
    }
}

// Versions 6 and 7, by the words of the header (SAC's open definition).
void write_sac(Corpus corpus)
{
    for (const std::int32_t version : {6, 7}) {
        std::string bytes;
        for (int word = 0; word < 70; ++word) bytes += little(word == 0 ? 0.01F : word == 5 ? 0.0F : -12345.0F);
        for (int word = 70; word < 110; ++word) {
            std::int32_t value = -12345;
            if (word < 76) value = std::array{2031, 137, 6, 30, 5, 250}[static_cast<std::size_t>(word - 70)];
            if (word == 76) value = version;
            if (word == 79) value = 16;               // points
            if (word == 85 || word == 105) value = 1; // a time series, even
            if (word == 86) value = 8;                // acceleration
            bytes += little(value);
        }
        bytes += fmt::format("{:8}{:16}", "DECK5", "-12345");
        for (int i = 0; i < 21; ++i) bytes += fmt::format("{:8}", i == 17 ? "HNZ" : "-12345");
        for (int i = 0; i < 16; ++i) bytes += little(static_cast<float>(i * i));
        if (version == 7)
            for (int i = 0; i < 22; ++i) bytes += little(i == 0 ? 0.01 : i == 1 ? 0.0 : -12345.0);
        corpus.add(bytes);
    }
}

// Two channels of a group, contiguous and interleaved, in two chunks (TDMS file format, internal structure).
void write_tdms(Corpus corpus)
{
    const auto text = [](std::string_view words) {
        return little(static_cast<std::uint32_t>(words.size())) + std::string(words);
    };
    for (const std::uint32_t layout : {0U, 32U}) {
        std::string about = little(std::uint32_t{4}) + text("/'run'") + little(0xFFFFFFFFU) + little(std::uint32_t{0});
        for (const char* channel : {"/'run'/'x'", "/'run'/'z'"}) {
            about += text(channel) + little(std::uint32_t{20}) + little(std::uint32_t{10}) + little(std::uint32_t{1}) +
                     little(std::uint64_t{4}) + little(std::uint32_t{2});
            about += text("wf_increment") + little(std::uint32_t{10}) + little(0.001);
            about += text("unit_string") + little(std::uint32_t{0x20}) + text("m/s2");
        }
        about += text("/'run'/'when'") + little(std::uint32_t{20}) + little(std::uint32_t{0x44}) +
                 little(std::uint32_t{1}) + little(std::uint64_t{4}) + little(std::uint32_t{0});
        const auto stamp = [](int sample) {
            return little(std::uint64_t{static_cast<std::uint64_t>(sample)} << 54) +
                   little(std::int64_t{4'019'005'805});
        };
        std::string raw; // two chunks of four samples, or eight rows
        for (int chunk = 0; layout == 0 && chunk < 2; ++chunk) {
            for (int i = 0; i < 8; ++i) raw += little(0.5 * i);
            for (int i = 0; i < 4; ++i) raw += stamp(4 * chunk + i);
        }
        for (int row = 0; layout != 0 && row < 8; ++row) raw += little(0.5 * row) + little(-0.5 * row) + stamp(row);
        corpus.add("TDSm" + little(std::uint32_t{2 | 4 | 8} | layout) + little(std::uint32_t{4713}) +
                   little(std::uint64_t{about.size() + raw.size()}) + little(std::uint64_t{about.size()}) + about +
                   raw);
    }
}

void write_mat(Corpus corpus)
{
    for (const auto& file : fs::directory_iterator(fs::path(BECALM_PROJECT) / "tests" / "reference" / "mat_files"))
        if (file.path().extension() == ".mat") corpus.add_file(file.path());
}

// Of run.bin, which lies beside (fuzz_description.cpp).
void write_descriptions(Corpus corpus)
{
    corpus.add("[becalm-recording]\nfiles = [\"run.bin\"]\nnumbers = \"int16\"\nbyte_order = \"little\"\nchannels = 3\n"
               "layout = \"interleaved\"\nheader_bytes = 12\nrate_hz = 1000.0\nstart = \"2031-05-17T06:30:05Z\"\n"
               "unit = \"m/s2\"\nscale = [0.01, 0.01, 0.02]\nnames = [\"x\", \"y\", \"z\"]\n");
    corpus.add(
        "[becalm-recording]\nside_by_side = [\"run.bin\", \"run.bin\"]\nnumbers = \"float64\"\nbyte_order = \"big\"\n"
        "channels = 1\nlayout = \"one after the other\"\nrate_hz = 200.5\n");
    corpus.add("[becalm-recording]\nfiles = [\"a.csv\", \"b.csv\"]\n");
}

void write_documents(const fs::path& folder)
{
    Survey survey;
    survey.title = "A floor";
    survey.setting = Setting::building;
    survey.sensors.push_back({.id = "s1", .calibrated = "2026-01-05", .uncertainty_percent = 3.0});
    survey.conditions.push_back({.id = "busy", .values = {{"traffic_per_h", 12.0}}, .period = "day"});
    survey.sources.push_back({.id = "fan", .kind = "plant", .values = {{"rpm", 900.0}}, .reference_channel = 2});
    survey.plans.push_back({.id = "p", .file = "p.png"});
    survey.spaces.push_back({.id = "a", .label = "A", .use = "office", .plan = "p", .place = PlanPlace{0.2, 0.3}});
    survey.recordings.push_back({.file = "a.wav",
                                 .space = "a",
                                 .condition = "busy",
                                 .sensor = "s1",
                                 .channels = {{1, Axis::x}, {2, Axis::y}, {3, Axis::z}},
                                 .scale = 9.81,
                                 .start = "2026-03-14T09:30:00+01:00",
                                 .excluded = {{1.0, 2.0, "a door"}},
                                 .events = {{3.0, 4.0, "tram"}}});
    survey.exposures.push_back({.person = "driver", .tasks = {{.space = "a", .condition = "busy", .hours = 4.0}}});
    survey.judges.push_back({.criteria = {"iso2631-2-2003"}, .uses = {"office"}});
    Corpus surveys(folder, "survey");
    surveys.add(io::survey_as_toml(survey));
    surveys.add("title = \"t\"\nsetting = \"rail\"\nspace = [ { id = \"a\", use = \"seat\" } ]\n"
                "recording = [ { file = \"a.wav\", space = \"a\", channels = { 1 = \"z\" } } ]\n");

    Corpus criteria(folder, "criterion");
    criteria.add(io::criterion_template("guide"));
    int taken = 0;
    for (const auto& file : fs::directory_iterator(io::data_folder() + "/criteria"))
        if (++taken % 5 == 0) criteria.add_file(file.path());

    Corpus stated(folder, "stated");
    Assessment assessment;
    assessment.verdicts.push_back({.space = "a",
                                   .condition = "busy",
                                   .criterion = "iso2631-2-2003",
                                   .value = 0.01,
                                   .expanded_uncertainty = 0.001});
    stated.add(io::as_json(assessment));
    stated.add("space,criterion,value,unit\na,iso2631-2-2003,0.01,m/s2\n\"b \"\"c\"\"\",x,1e-3,\n");
}

// One lane of an hour and a bit, with a line between the files as tests/fuzz/fuzz_ledger.cpp takes them apart.
void write_ledgers(Corpus corpus)
{
    const fs::path folder = fs::temp_directory_path() / fmt::format("becalm-seed-ledger-{}", ::getpid());
    auto writer = io::LedgerFolderWriter::create(
        folder.string(), {.file = "-",
                          .start = "2031-05-17T06:30:05Z",
                          .rate_hz = 100.0,
                          .lanes = {{.channel = 1, .axis = Axis::z, .weighting = WeightingId::Wk}},
                          .units = {"m/s2"},
                          .recorded_unit = "m/s2"});
    const std::vector<std::vector<LedgerRow>> rows(
        1, std::vector<LedgerRow>(3700, {.samples = 100, .sum_squares = 0.04, .sum_fourths = 1e-5, .peak = 0.03}));
    if (!writer || !(*writer)->append(rows) || !(*writer)->commit()) throw std::runtime_error("no ledger");
    std::string bytes;
    for (const char* name :
         {"index.json", "0001-ch1-z-Wk.npy", "0001-ch1-z-Wk-sums-60.npy", "0001-ch1-z-Wk-sums-3600.npy"}) {
        std::ifstream file(folder / name, std::ios::binary);
        if (!file) throw std::runtime_error(name);
        bytes += std::string(std::istreambuf_iterator<char>(file), {}) + "\n====\n";
    }
    fs::remove_all(folder);
    corpus.add(bytes);
}

void write_sheets(Corpus corpus)
{
    corpus.add("0B 80 24 41 9C 61 00 00");
    corpus.add(std::string_view("\x0b\x80\x24\x41\x9c\x61\x00\x00\x19", 9));
    for (const char* words : {"10.2 mV/(m/s2)", "10,2 mV/(m/s²)", "100 mV/g", "28.8 V/(m/s)"}) corpus.add(words);
}

} // namespace

int main(int argc, char** argv)
{
    if (argc != 2) {
        std::fputs("usage: write_seeds FOLDER\n", stderr);
        return 2;
    }
    const fs::path folder = argv[1];
    write_audio({folder, "audio"});
    write_audio({folder, "stream"});
    write_text({folder, "text"});
    write_ledgers({folder, "ledger"});
    write_sheets({folder, "sheet"});
    write_uff({folder, "uff"});
    write_miniseed({folder, "miniseed"});
    write_sac({folder, "sac"});
    write_tdms({folder, "tdms"});
    write_mat({folder, "mat"});
    write_descriptions({folder, "description"});
    write_documents(folder);
    return 0;
}

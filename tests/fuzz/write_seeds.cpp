// The corpora that fuzzing starts from, made afresh: write_seeds FOLDER makes FOLDER/<format>/<seed>. Small files, each
// with something of its own: a coding, a byte order, a chunk, a dialect.
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <sndfile.h>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "src/io/criterion_file.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"

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

} // namespace

int main(int argc, char** argv)
{
    if (argc != 2) {
        std::fputs("usage: write_seeds FOLDER\n", stderr);
        return 2;
    }
    const fs::path folder = argv[1];
    write_audio({folder, "audio"});
    write_text({folder, "text"});
    write_documents(folder);
    return 0;
}

// `becalm spectrum` as the command line's contract states it. Expected values are computed from the definitions:
// a sine's mean square, the density of white noise, Parseval.
#include <filesystem>
#include <fstream>

#include <gmock/gmock.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;

json lane_of(const Outcome& outcome)
{
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    return outcome.json().at("lanes").at(0);
}

double level(const json& bands, double nominal_hz, const char* key = "rms")
{
    for (const json& band : bands)
        if (band.at("nominal_hz") == nominal_hz) return band.at(key);
    ADD_FAILURE() << "no band " << nominal_hz;
    return 0.0;
}

// White noise of deviation 0.1 and a sine of amplitude 0.5 at 16 Hz, 1 kHz.
Signal noise_and_sine(double seconds)
{
    Signal x = noise(seconds, 1000.0, 0.1, 3);
    const Signal tone = sine(seconds, 1000.0, 16.0, 0.5);
    for (std::size_t i = 0; i < x.size(); ++i) x[i] += tone[i];
    return x;
}

std::vector<std::string> lines_of(const std::string& path)
{
    std::ifstream in(path);
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

std::vector<double> values_of(const std::string& line) // after "time,channel,axis,weighting,unit"
{
    std::istringstream in(line);
    std::string field;
    std::vector<double> values;
    for (int column = 0; std::getline(in, field, ','); ++column)
        if (column >= 5) values.push_back(std::stod(field));
    return values;
}

TEST(Spectrum, WritesTheFieldsOfTheContract)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav({noise_and_sine(60.0)}, 1000));
    const Outcome outcome = call({"spectrum", path, "--json", "-"});
    const json lane = lane_of(outcome);
    EXPECT_EQ(outcome.json().at("schema"), "becalm.spectrum/1");
    EXPECT_EQ(outcome.json().at("from_hz"), 0.0);
    EXPECT_EQ(lane.at("channel"), 1);
    EXPECT_EQ(lane.at("axis"), "z");
    EXPECT_EQ(lane.at("weighting"), "none");
    EXPECT_EQ(lane.at("resolution_hz"), 0.25);
    EXPECT_EQ(lane.at("window"), "hann");
    EXPECT_EQ(lane.at("overlap"), 0.5);
    EXPECT_EQ(lane.at("scaling"), "density");
    EXPECT_EQ(lane.at("segments"), 29);
    EXPECT_EQ(lane.at("row"), (json{{"segments", 1}, {"s", 4.0}, {"rows", 29}}));
    ASSERT_EQ(lane.at("psd").size(), 2001U);
    EXPECT_EQ(lane.at("psd").at(2000).at(0), 500.0);
    EXPECT_FALSE(lane.contains("amplitude"));
    EXPECT_FALSE(lane.contains("running_bands"));
    const double sine_rms = 0.5 / std::sqrt(2.0);
    EXPECT_NEAR(lane.at("dominant").at(0).at("hz").get<double>(), 16.0, 0.005);
    EXPECT_NEAR(lane.at("dominant").at(0).at("rms").get<double>(), sine_rms, 0.01 * sine_rms);
    EXPECT_NEAR(lane.at("dominant").at(0).at("energy_share").get<double>(), 0.125 / 0.135, 0.01);
}

// Parseval: the sum of density times resolution is the mean square, 0.01 + 0.125; the scatter of 60,000 samples of
// noise is 0.6 % of 0.01.
TEST(Spectrum, DrawsSpectrumAndBandsOfEachLane)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav({noise_and_sine(60.0)}, 1000));
    const Outcome outcome = call({"spectrum", path, "--weighting", "none,Wk", "--figures", folder.path("figures")});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_THAT(outcome.out, HasSubstr("4 figures written to "));
    const std::string drawn = content_of(folder.path("figures/a-1-z-Wk-spectrum.svg"));
    EXPECT_THAT(drawn, HasSubstr("weighting Wk"));
    EXPECT_THAT(content_of(folder.path("figures/a-1-z-none-bands.svg")), HasSubstr("One-third octaves"));
    const std::string logarithmic = content_of(folder.path("figures/a-1-z-none-spectrum.svg"));
    ASSERT_EQ(call({"spectrum", path, "--figures", folder.path("figures"), "--linear"}).code, 0);
    const std::string linear = content_of(folder.path("figures/a-1-z-none-spectrum.svg"));
    EXPECT_THAT(linear, HasSubstr(">400<")); // a label that no logarithmic axis has
    EXPECT_THAT(logarithmic, testing::Not(HasSubstr(">400<")));
    // A folder that cannot be made is told.
    folder.file("taken", "");
    EXPECT_EQ(call({"spectrum", path, "--figures", folder.path("taken")}).code, 3);
}

TEST(Spectrum, DensityAndBandsHoldTheMeanSquare)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav({noise_and_sine(60.0)}, 1000));
    const json lane = lane_of(call({"spectrum", path, "--json", "-"}));
    double sum = 0.0, noise_density = 0.0;
    for (const json& bin : lane.at("psd")) sum += bin.at(1).get<double>() * 0.25;
    EXPECT_NEAR(sum, 0.135, 0.001);
    for (std::size_t k = 400; k < 1600; ++k) noise_density += lane.at("psd").at(k).at(1).get<double>() / 1200.0;
    EXPECT_NEAR(noise_density, 0.01 / 500.0, 0.02 * 0.01 / 500.0);

    // 16 Hz lies in the bands of 14.1 to 17.8 Hz and 11.2 to 22.4 Hz, with so much noise beside it.
    EXPECT_NEAR(level(lane.at("third_octave"), 16.0), std::sqrt(0.125 + 2e-5 * 3.66), 1e-3);
    EXPECT_NEAR(level(lane.at("octave"), 16.0), std::sqrt(0.125 + 2e-5 * 11.2), 1e-3);
    // An octave holds its three one-third octaves.
    for (const json& octave : lane.at("octave")) {
        double thirds = 0.0;
        for (const json& third : lane.at("third_octave"))
            if (std::abs(third.at("n").get<int>() - 3 * octave.at("n").get<int>()) <= 1)
                thirds += std::pow(third.at("rms").get<double>(), 2.0);
        if (octave.at("n").get<int>() < 0) continue; // its lowest one-third octave lies below the resolution
        EXPECT_NEAR(octave.at("rms").get<double>(), std::sqrt(thirds), 1e-9) << octave;
    }
}

// A sine that lasts for the second half alone: its rows' greatest density is twice the mean over all, less what the
// joint takes, its least is nothing.
TEST(Spectrum, PeakHoldAndMinimumTellWhatTheMeanHides)
{
    const ScratchFolder folder;
    Signal x = sine(80.0, 500.0, 20.0, 1.0);
    std::fill(x.begin(), x.begin() + 20'000, 0.0);
    const Signal faint = noise(80.0, 500.0, 1e-3, 1);
    for (std::size_t i = 0; i < x.size(); ++i) x[i] += faint[i];
    const std::string path = folder.file("a.wav", wav({x}, 500));
    const json lane = lane_of(call({"spectrum", path, "--offset", "none", "--json", "-"}));
    const auto at_20_hz = [](const json& list) { return list.at(80).at(1).get<double>(); };
    EXPECT_EQ(lane.at("psd_max").at(80).at(0), 20.0);
    const double density = 0.5 / (1.5 * 0.25); // of a sine of mean square 0.5 at a bin, Hann window
    EXPECT_NEAR(at_20_hz(lane.at("psd_max")), density, 0.01 * density);
    EXPECT_NEAR(at_20_hz(lane.at("psd")), 0.5 * density, 0.05 * density);
    EXPECT_LT(at_20_hz(lane.at("psd_min")), 1e-5 * density);

    const json long_rows = lane_of(call({"spectrum", path, "--offset", "none", "--row-s", "20", "--json", "-"}));
    EXPECT_EQ(long_rows.at("row").at("segments"), 10);
    EXPECT_EQ(long_rows.at("row").at("rows"), 3);
    EXPECT_EQ(at_20_hz(long_rows.at("psd")), at_20_hz(lane.at("psd"))); // the mean knows no rows
    EXPECT_NEAR(at_20_hz(long_rows.at("psd_max")), density, 0.01 * density);
}

TEST(Spectrum, AnAmplitudeIsTheRmsOfASine)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav({sine(60.0, 1000.0, 16.0, 0.5)}, 1000));
    const json lane = lane_of(call({"spectrum", path, "--scaling", "amplitude", "--json", "-"}));
    EXPECT_EQ(lane.at("amplitude").at(64).at(0), 16.0);
    EXPECT_NEAR(lane.at("amplitude").at(64).at(1).get<double>(), 0.5 / std::sqrt(2.0), 1e-6);
    const Outcome people = call({"spectrum", path, "--scaling", "amplitude"});
    EXPECT_THAT(people.out, HasSubstr("r.m.s. of a sine m/s2"));
    EXPECT_THAT(people.out, HasSubstr("  16 "));
    EXPECT_THAT(call({"spectrum", path, "--scaling", "density"}).out, HasSubstr("(m/s2)^2/Hz"));
    EXPECT_THAT(call({"spectrum", path}).out, testing::Not(HasSubstr("(m/s2)^2/Hz")));
}

// v = a / (2 pi f), d = a / (2 pi f)^2.
TEST(Spectrum, ConvertsAMotionInTheFrequencyDomain)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav({sine(60.0, 1000.0, 16.0, 0.5)}, 1000));
    const double w = 2.0 * std::numbers::pi * 16.0, a = 0.5 / std::sqrt(2.0);
    for (const auto& [as, unit, expected] :
         {std::tuple("acceleration", "m/s2", a), std::tuple("velocity", "m/s", a / w),
          std::tuple("displacement", "m", a / (w * w))}) {
        const Outcome outcome = call({"spectrum", path, "--as", as, "--json", "-"});
        const json lane = lane_of(outcome);
        EXPECT_EQ(outcome.json().at("converted_to"), as);
        EXPECT_EQ(outcome.json().at("from_hz"), 0.75);
        EXPECT_EQ(lane.at("unit"), unit);
        EXPECT_NEAR(lane.at("dominant").at(0).at("rms").get<double>(), expected, 1e-3 * expected) << as;
        EXPECT_NEAR(level(lane.at("octave"), 16.0), expected, 2e-3 * expected)
            << as; // neighbours of 16 Hz lean a little
        EXPECT_EQ(lane.at("psd").at(0).at(0), 0.75);
        EXPECT_EQ(lane.at("third_octave").at(0).at("nominal_hz"), 1.0); // from 0.89 Hz
    }
    const json velocity = lane_of(call({"spectrum", path, "--unit", "m/s", "--as", "acceleration", "--json", "-"}));
    EXPECT_NEAR(velocity.at("dominant").at(0).at("rms").get<double>(), a * w, 1e-3 * a * w);

    const json above = lane_of(call({"spectrum", path, "--as", "velocity", "--above", "20", "--json", "-"}));
    EXPECT_EQ(above.at("psd").at(0).at(0), 20.0);
    for (const json& line : above.at("dominant")) EXPECT_GE(line.at("hz").get<double>(), 20.0); // of single precision
    EXPECT_EQ(above.at("third_octave").at(0).at("nominal_hz"), 25.0);
    EXPECT_THAT(call({"spectrum", path, "--as", "velocity"}).out, HasSubstr("nothing below 0.75 Hz is reported"));
}

TEST(Spectrum, RunningBandsShowTheGreatestAndTheMean)
{
    const ScratchFolder folder;
    Signal x = sine(40.0, 1000.0, 16.0, 0.5);
    std::fill(x.begin() + 10'000, x.end(), 0.0); // for a quarter of the time
    const std::string path = folder.file("a.wav", wav({x}, 1000));
    const Outcome outcome = call({"spectrum", path, "--offset", "none", "--running", "1", "--json", "-"});
    const json bands = lane_of(outcome).at("running_bands");
    EXPECT_EQ(outcome.json().at("running_s"), 1.0);
    const double rms = 0.5 / std::sqrt(2.0);
    EXPECT_NEAR(level(bands, 16.0, "greatest"), rms, 0.01 * rms); // after 10 s of rise by 1 s; ripple 0.25 %
    EXPECT_NEAR(level(bands, 16.0, "mean"), rms / 2.0, 0.01 * rms);
    for (const json& band : bands) // edges up to 0.4 of the rate
        EXPECT_LE(band.at("nominal_hz").get<double>(), band.at("bands_an_octave") == 1 ? 250.0 : 315.0);
    const json fast = lane_of(call({"spectrum", path, "--running", "0.125", "--json", "-"})).at("running_bands");
    EXPECT_GT(level(fast, 16.0, "greatest"), rms);
    EXPECT_THAT(call({"spectrum", path, "--running", "1"}).out, HasSubstr("greatest in 1 s m/s2"));
}

TEST(Spectrum, ASpectrogramHasARowASecondAndLane)
{
    const ScratchFolder folder;
    Signal x = sine(10.5, 1000.0, 16.0, 0.5);
    std::fill(x.begin() + 5'000, x.end(), 0.0);
    const Signal other = sine(10.5, 1000.0, 50.0, 1.0);
    const std::string path = folder.file("a.wav", wav({x, other}, 1000));
    const std::string csv = folder.path("rows.csv");
    const Outcome outcome = call({"spectrum", path, "--axes", "x,z", "--offset", "none", "--weighting", "none,Wk",
                                  "--spectrogram", csv, "--row-s", "1"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    const auto lines = lines_of(csv);
    ASSERT_EQ(lines.size(), 1U + 10U * 4U);
    EXPECT_THAT(lines[0], testing::StartsWith("time_s,channel,axis,weighting,unit,1.25,1.6,2,"));
    EXPECT_THAT(lines[1], testing::StartsWith("0,1,x,none,m/s2,"));
    EXPECT_THAT(lines[2], testing::StartsWith("0,1,x,Wk,m/s2,"));
    EXPECT_THAT(lines[3], testing::StartsWith("0,2,z,none,m/s2,"));
    EXPECT_THAT(lines[40], testing::StartsWith("9,2,z,Wk,m/s2,"));
    // Bands 1.25 (n = 1) on: 16 Hz is n = 12, 50 Hz n = 17. A window of 1 s spreads a sine over +-1 Hz: inside 14.1 to
    // 17.8 Hz and 44.7 to 56.2 Hz.
    EXPECT_NEAR(values_of(lines[1])[11], 0.5 / std::sqrt(2.0), 2e-3);
    EXPECT_NEAR(values_of(lines[3])[16], 1.0 / std::sqrt(2.0), 1e-3);
    EXPECT_LT(values_of(lines[1 + 4 * 6])[11], 1e-9); // after 5 s nothing
}

TEST(Spectrum, ASpectrogramMayHaveBinsAndLongRows)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav({noise(130.0, 250.0, 0.1, 5)}, 250));
    const std::string csv = folder.path("rows.csv");
    const Outcome outcome =
        call({"spectrum", path, "--spectrogram", csv, "--row-s", "60", "--columns", "bins", "--resolution", "0.5"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    const auto lines = lines_of(csv);
    ASSERT_EQ(lines.size(), 3U);
    EXPECT_THAT(lines[2], testing::StartsWith("60,1,z,none,m/s2,"));
    double sum = 0.0;
    const auto values = values_of(lines[1]);
    ASSERT_EQ(values.size(), 251U);
    for (const double value : values) sum += value * 0.5;
    EXPECT_NEAR(sum, 0.01, 0.0005); // Parseval; scatter of 15,000 samples: 1.2 %
}

TEST(Spectrum, LeavesAChannelWithGapsOutOfReportAndSpectrogram)
{
    const ScratchFolder folder;
    Signal lost = sine(20.0, 500.0, 10.0, 1.0);
    lost[5'000] = std::numeric_limits<double>::quiet_NaN();
    const std::string path = folder.file("a.wav", wav({lost, sine(20.0, 500.0, 10.0, 1.0)}, 500));
    const std::string csv = folder.path("rows.csv");
    const Outcome outcome =
        call({"spectrum", path, "--axes", "x,z", "--running", "1", "--spectrogram", csv, "--json", "-"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    ASSERT_EQ(outcome.json().at("lanes").size(), 1U);
    EXPECT_EQ(outcome.json().at("lanes").at(0).at("channel"), 2);
    EXPECT_EQ(outcome.json().at("findings").at(0).at("code"), "not-a-number");
    const auto lines = lines_of(csv);
    ASSERT_EQ(lines.size(), 21U);
    for (std::size_t i = 1; i < lines.size(); ++i) EXPECT_THAT(lines[i], HasSubstr(",2,z,none,"));
    EXPECT_EQ(folder.entries(), 2U); // nothing left lying about

    // Nothing can be said of a recording all of whose channels have gaps, and no file is written.
    const std::string only = folder.file("b.wav", wav({lost}, 500));
    EXPECT_EQ(call({"spectrum", only, "--spectrogram", folder.path("no.csv")}).code, 3);
    EXPECT_FALSE(std::filesystem::exists(folder.path("no.csv")));
}

TEST(Spectrum, SaysWhatIsWrongWithACallOrAFile)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav({noise(30.0, 200.0, 0.1, 5)}, 200));
    const std::string csv = folder.path("rows.csv");
    const auto expect = [&](std::vector<std::string> more, int code, const std::string& words) {
        more.insert(more.begin(), {"spectrum", path});
        const Outcome outcome = call(more);
        EXPECT_EQ(outcome.code, code) << words;
        EXPECT_THAT(outcome.err + outcome.out, HasSubstr(words));
    };
    expect({"--resolution", "0"}, 2, "the resolution must be greater than 0");
    expect({"--resolution", "0.01"}, 3, "30 s are too short for a resolution of 0.01 Hz, which needs 100 s");
    expect({"--resolution", "100"}, 3, "too coarse for a rate of 200 Hz");
    expect({"--resolution", "1e-300"}, 2, "finer than any recording allows");
    expect({"--row-s", "1e300"}, 2, "longer than any recording");
    expect({"--row-s", "0"}, 2, "a row must last longer than 0");
    expect({"--above", "-1"}, 2, "must be greater than 0");
    expect({"--above", "100"}, 2, "nothing is left above 100 Hz at a rate of 200 Hz");
    expect({"--running", "0"}, 2, "time constant");
    expect({"--running", "1", "--as", "velocity"}, 2, "the one or the other");
    expect({"--as", "jerk"}, 2, "--as cannot be \"jerk\"");
    expect({"--scaling", "power"}, 2, "density or amplitude");
    expect({"--columns", "octaves"}, 2, "bands or bins");
    expect({"--spectrogram", csv, "--row-s", "31"}, 3, "30 s are too short for a row of 31 s");
    expect({"--spectrogram", csv, "--row-s", "0.02"}, 3, "holds less than 8 samples");
    expect({"--spectrogram", folder.path("none/rows.csv")}, 3, "folder");
    expect({"--weighting", "Wk"}, 3, "256 Hz"); // the rate is too low: no lane is left
    EXPECT_FALSE(std::filesystem::exists(csv));
}

} // namespace
} // namespace becalm::tests

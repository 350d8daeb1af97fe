// `becalm weigh` and `becalm response` as the command line's contract states them. Expected values come from a naive
// implementation of the definitions beside each test, and for weighted sines from the analytic weighting functions.
#include <complex>
#include <filesystem>

#include <gmock/gmock.h>

#include "src/io/ledger_folder.h"

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;

// ISO 2631-1:1997 annex A and ISO 2631-2:2003 annex A: band limitation, acceleration-velocity transition, upward step.
// Parameters from memory; this code shares nothing with the program's.
std::complex<double> weighting(const std::string& name, double hz)
{
    const std::complex<double> p(0.0, 2.0 * std::numbers::pi * hz);
    const auto w = [](double f) { return 2.0 * std::numbers::pi * f; };
    const double lower = name == "Wm" ? std::pow(10.0, -0.1) : 0.4;
    auto h = 1.0 / (1.0 + std::sqrt(2.0) * w(lower) / p + std::pow(w(lower) / p, 2.0));
    h *= 1.0 / (1.0 + std::sqrt(2.0) * p / w(100.0) + std::pow(p / w(100.0), 2.0));
    const double f3 = name == "Wk" ? 12.5 : name == "Wd" ? 2.0 : 1.0 / (2.0 * std::numbers::pi * 0.028);
    if (name == "Wm") return h / (1.0 + p / w(f3));
    h *= (1.0 + p / w(f3)) / (1.0 + p / (0.63 * w(f3)) + std::pow(p / w(f3), 2.0));
    if (name == "Wk") {
        const double f5 = 2.37, f6 = 3.35, q = 0.91;
        h *= (1.0 + p / (q * w(f5)) + std::pow(p / w(f5), 2.0)) / (1.0 + p / (q * w(f6)) + std::pow(p / w(f6), 2.0)) *
             std::pow(f5 / f6, 2.0);
    }
    return h;
}

// The quantities of the contract, sample by sample from their definitions. `x` is what is selected.
struct Naive {
    double rms = 0.0, peak = 0.0, mtvv_linear = 0.0, mtvv_exponential = 0.0, vdv = 0.0, msdv = 0.0;
};

Naive naive(const Signal& x, double rate_hz)
{
    Naive result;
    double squares = 0.0, fourths = 0.0, average = 0.0;
    const double keep = std::exp(-1.0 / rate_hz); // over one sample, tau = 1 s
    for (const double value : x) {
        squares += value * value;
        fourths += std::pow(value, 4.0);
        average = keep * average + (1.0 - keep) * value * value; // from rest
        result.peak = std::max(result.peak, std::abs(value));
        result.mtvv_exponential = std::max(result.mtvv_exponential, std::sqrt(average));
    }
    const auto window = static_cast<std::size_t>(std::lround(rate_hz));
    if (x.size() < window) result.mtvv_linear = std::sqrt(squares / rate_hz);
    for (std::size_t begin = 0; begin + window <= x.size(); ++begin) {
        double sum = 0.0;
        for (std::size_t i = begin; i < begin + window; ++i) sum += x[i] * x[i];
        result.mtvv_linear = std::max(result.mtvv_linear, std::sqrt(sum / static_cast<double>(window)));
    }
    result.rms = std::sqrt(squares / static_cast<double>(x.size()));
    result.msdv = std::sqrt(squares / rate_hz);
    result.vdv = std::pow(fourths / rate_hz, 0.25);
    return result;
}

double mean(const Signal& x, std::size_t count)
{
    double sum = 0.0;
    for (std::size_t i = 0; i < std::min(count, x.size()); ++i) sum += x[i];
    return sum / static_cast<double>(std::min(count, x.size()));
}

Signal part(const Signal& x, std::size_t from, std::size_t to, double offset = 0.0, double scale = 1.0)
{
    Signal result;
    for (std::size_t i = from; i < to; ++i) result.push_back((x[i] - offset) * scale);
    return result;
}

void expect_lane(const json& lane, const Naive& expected, double tolerance = 1e-11)
{
    const auto near = [&](const char* key, double value) {
        EXPECT_NEAR(lane.at(key).get<double>(), value, tolerance * value) << key;
    };
    near("rms", expected.rms);
    near("peak", expected.peak);
    near("crest_factor", expected.peak / expected.rms);
    near("mtvv_linear", expected.mtvv_linear);
    near("mtvv_exponential", expected.mtvv_exponential);
    near("vdv", expected.vdv);
    near("msdv", expected.msdv);
}

json lanes_of(const Outcome& outcome, std::size_t file = 0)
{
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    return outcome.json().at("files").at(file).at("lanes");
}

TEST(Weigh, WritesTheFieldsOfTheContractAndNothingBesideThem)
{
    const ScratchFolder folder;
    const std::string content = wav({noise(12.3, 1000.0, 0.1, 1)}, 1000);
    const std::string path = folder.file("a.wav", content);
    const Outcome outcome = call({"weigh", path, "--weighting", "Wk", "--json", "-"});
    EXPECT_EQ(outcome.code, 0);
    EXPECT_EQ(outcome.err, "");
    const json document = outcome.json();
    EXPECT_EQ(document.at("schema"), "becalm.weigh/1");
    ASSERT_EQ(document.at("files").size(), 1U);
    const json& file = document.at("files").at(0);
    EXPECT_EQ(file.at("file"), path);
    EXPECT_EQ(file.at("sha256").get<std::string>().size(), 64U);
    EXPECT_EQ(file.at("rate_hz"), 1000.0);
    EXPECT_EQ(file.at("duration_s"), 12.3);
    EXPECT_EQ(file.at("findings"), json::array());
    ASSERT_EQ(file.at("lanes").size(), 1U);
    const json& lane = file.at("lanes").at(0);
    EXPECT_EQ(lane.at("channel"), 1);
    EXPECT_EQ(lane.at("axis"), "z");
    EXPECT_EQ(lane.at("weighting"), "Wk");
    for (const char* key : {"rms", "peak", "crest_factor", "mtvv_linear", "mtvv_exponential", "vdv", "msdv"})
        EXPECT_TRUE(lane.at(key).is_number()) << key;
}

TEST(Weigh, TheHashIsTheFiles)
{
    const ScratchFolder folder;
    // SHA-256 of this text computed with coreutils.
    const std::string path = folder.file("a.csv", "# rate_hz: 1000\nz\n1\n2\n4\n");
    const Outcome outcome = call({"weigh", path, "--weighting", "none", "--json", "-"});
    EXPECT_EQ(outcome.json().at("files").at(0).at("sha256"),
              "7f6c9c39c565acae4dd102b2e7d5ce7dab866c9a09912232d9eacd6ec413fd7b");
}

TEST(Weigh, WithoutAWeightingEveryQuantityIsThatOfTheDefinition)
{
    const ScratchFolder folder;
    for (const double seconds : {12.0, 10.0, 3.217, 0.4}) {
        const Signal x = noise(seconds, 500.0, 0.2, 7, 0.35);
        const std::string path = folder.file("a.csv", csv({x}, 500.0, "z"));
        const json lanes = lanes_of(call({"weigh", path, "--weighting", "none", "--json", "-"}));
        expect_lane(lanes.at(0), naive(part(x, 0, x.size(), mean(x, 5000)), 500.0));
    }
}

TEST(Weigh, OffsetRules)
{
    const ScratchFolder folder;
    Signal x = noise(14.0, 500.0, 0.2, 3, 0.5);
    for (std::size_t i = 5000; i < x.size(); ++i) x[i] += 0.1; // so that the rules differ
    const std::string path = folder.file("a.csv", csv({x}, 500.0, "z"));
    for (const auto& [rule, offset] :
         {std::pair("first10s", mean(x, 5000)), std::pair("mean", mean(x, x.size())), std::pair("none", 0.0)}) {
        const json lanes = lanes_of(call({"weigh", path, "--weighting", "none", "--offset", rule, "--json", "-"}));
        expect_lane(lanes.at(0), naive(part(x, 0, x.size(), offset), 500.0));
    }
    // The default is the first rule.
    EXPECT_EQ(lanes_of(call({"weigh", path, "--weighting", "none", "--json", "-"})),
              lanes_of(call({"weigh", path, "--weighting", "none", "--offset", "first10s", "--json", "-"})));
}

// Sample i stands for the time i / rate; it is selected where from <= i / rate < to.
TEST(Weigh, EverySelectedSampleCountsAndNoOther)
{
    const ScratchFolder folder;
    const double rate = 500.0;
    const Signal x = noise(14.0, rate, 0.2, 5, 0.2);
    const std::string path = folder.file("a.csv", csv({x}, rate, "z"));
    struct Case {
        std::string from, to;
        std::size_t begin, end;
    };
    for (const Case& c : {Case{"2", "9", 1000, 4500}, Case{"2.5", "9.75", 1250, 4875},
                          Case{"0.303", "5.811", 152, 2906}, Case{"0", "14", 0, 7000}, Case{"12.9", "99", 6450, 7000},
                          Case{"3", "3.6", 1500, 1800}, Case{"7.001", "7.0039", 3501, 3502}}) {
        const Outcome outcome =
            call({"weigh", path, "--weighting", "none", "--from", c.from, "--to", c.to, "--json", "-"});
        const json lanes = lanes_of(outcome);
        expect_lane(lanes.at(0), naive(part(x, c.begin, c.end, mean(x, 5000)), rate));
        EXPECT_NEAR(outcome.json().at("files").at(0).at("duration_s").get<double>(),
                    static_cast<double>(c.end - c.begin) / rate, 1e-12);
    }
}

TEST(Weigh, WindowsOfTheRunningMeanLieWhollyInsideTheSelection)
{
    const ScratchFolder folder;
    Signal x = noise(12.0, 500.0, 0.01, 5);
    for (std::size_t i = 1400; i < 1500; ++i) x[i] += 5.0; // ends where the selection begins
    const std::string path = folder.file("a.csv", csv({x}, 500.0, "z"));
    const json lanes = lanes_of(
        call({"weigh", path, "--weighting", "none", "--offset", "none", "--from", "3", "--to", "8.5", "--json", "-"}));
    expect_lane(lanes.at(0), naive(part(x, 1500, 4250), 500.0));
    EXPECT_LT(lanes.at(0).at("mtvv_linear").get<double>(), 0.02);
    EXPECT_LT(lanes.at(0).at("mtvv_exponential").get<double>(), 0.02); // from rest at the selection
}

TEST(Weigh, WeightedSinesComeOutAsTheAnalyticWeightingSays)
{
    const ScratchFolder folder;
    const double amplitude = 0.3;
    for (const double hz : {1.0, 4.0, 16.0, 63.0}) {
        const std::string path = folder.file("a.csv", csv({sine(60.0, 1000.0, hz, amplitude)}, 1000.0, "z"));
        const json lanes =
            lanes_of(call({"weigh", path, "--weighting", "Wk,Wd,Wm", "--from", "30", "--to", "50", "--json", "-"}));
        ASSERT_EQ(lanes.size(), 3U);
        for (const json& lane : lanes) {
            const double weighted = amplitude * std::abs(weighting(lane.at("weighting"), hz));
            // Steady: 20 whole seconds of whole periods. Integral of sin^4 over T is 3 T / 8.
            EXPECT_NEAR(lane.at("rms").get<double>(), weighted / std::sqrt(2.0), 1e-4 * weighted);
            EXPECT_NEAR(lane.at("mtvv_linear").get<double>(), weighted / std::sqrt(2.0), 1e-4 * weighted);
            EXPECT_NEAR(lane.at("msdv").get<double>(), weighted / std::sqrt(2.0) * std::sqrt(20.0), 1e-3 * weighted);
            EXPECT_NEAR(lane.at("vdv").get<double>(), weighted * std::pow(20.0 * 3.0 / 8.0, 0.25), 1e-3 * weighted);
            // The crest falls between two samples by half a period of the rate at most.
            EXPECT_LE(lane.at("peak").get<double>(), weighted * 1.0001);
            EXPECT_GE(lane.at("peak").get<double>(), weighted * std::cos(std::numbers::pi * hz / 1000.0) * 0.9999);
        }
    }
}

TEST(Weigh, EveryUnitIsConvertedAndWeightedAsAcceleration)
{
    const ScratchFolder folder;
    const double rate = 1000.0, hz = 8.0, omega = 2.0 * std::numbers::pi * hz;
    const Signal x = sine(40.0, rate, hz, 2.0);
    const std::string path = folder.file("a.csv", csv({x}, rate, "z"));
    struct Case {
        std::string unit;
        double to_si;
        int order; // times the motion is differentiated to become an acceleration
    };
    const double g = 9.80665; // 3rd CGPM, 1901
    for (const Case& c :
         {Case{"m/s2", 1.0, 0}, Case{"mm/s2", 1e-3, 0}, Case{"g", g, 0}, Case{"mg", 1e-3 * g, 0}, Case{"m/s", 1.0, 1},
          Case{"mm/s", 1e-3, 1}, Case{"um/s", 1e-6, 1}, Case{"m", 1.0, 2}, Case{"mm", 1e-3, 2}, Case{"um", 1e-6, 2}}) {
        const Outcome outcome = call({"weigh", path, "--weighting", "Wk,none", "--unit", c.unit, "--scale", "0.5",
                                      "--from", "20", "--to", "30", "--json", "-"});
        const json lanes = lanes_of(outcome);
        const double si = 0.5 * 2.0 * c.to_si / std::sqrt(2.0);
        const double weighted = si * std::pow(omega, c.order) * std::abs(weighting("Wk", hz));
        EXPECT_NEAR(lanes.at(0).at("rms").get<double>(), weighted, 1e-4 * weighted) << c.unit;
        EXPECT_NEAR(lanes.at(1).at("rms").get<double>(), si, 1e-9 * si) << c.unit; // none: the motion itself
    }
}

TEST(Weigh, TheVelocityWeightingsGiveAVelocityOfEveryUnit)
{
    const ScratchFolder folder;
    const double rate = 1000.0, hz = 16.0, omega = 2.0 * std::numbers::pi * hz;
    // Definitions: 1/sqrt(1 + (5.6/f)^2) and Butterworth band limits of the second order.
    const auto limits = [&](double low) {
        return 1.0 / std::sqrt((1.0 + std::pow(low / hz, 4.0)) * (1.0 + std::pow(hz / 100.0, 4.0)));
    };
    const double velocity = 1e-3 * limits(std::pow(10.0, -0.1)), kb = velocity / std::hypot(1.0, 5.6 / hz);
    for (const auto& [unit, amplitude] :
         {std::pair("mm/s2", omega), std::pair("mm/s", 1.0), std::pair("mm", 1.0 / omega)}) {
        const std::string path = folder.file("a.csv", csv({sine(40.0, rate, hz, amplitude)}, rate, "z"));
        const std::vector<std::string> arguments{
            "weigh", path, "--weighting", "KB,velocity,flat", "--unit", unit, "--from", "20", "--to", "30"};
        std::vector<std::string> as_json = arguments;
        as_json.insert(as_json.end(), {"--json", "-"});
        const json lanes = lanes_of(call(as_json));
        for (const auto& [lane, expected, motion] :
             {std::tuple(lanes.at(0), kb, "m/s"), std::tuple(lanes.at(1), velocity, "m/s"),
              std::tuple(lanes.at(2), 1e-3 * omega * limits(0.4), "m/s2")}) {
            EXPECT_NEAR(lane.at("rms").get<double>(), expected / std::sqrt(2.0), 1e-4 * expected) << unit << lane;
            EXPECT_EQ(lane.at("unit"), motion);
            EXPECT_EQ(lane.at("vdv").is_null(), lane.at("unit") == "m/s") << "a dose is of an acceleration";
        }
        EXPECT_THAT(call(arguments).out, HasSubstr("doses are told of accelerations in m/s2"));
    }
}

TEST(Weigh, IntegerSamplesNeedAScaleWhichIsFullScale)
{
    const ScratchFolder folder;
    for (const int bits : {16, 24}) {
        const Signal x = noise(3.0, 1000.0, 0.1, 11);
        const std::string path = folder.file("a.wav", wav({x}, 1000, bits));
        const Outcome refused = call({"weigh", path, "--weighting", "Wk"});
        EXPECT_EQ(refused.code, 3);
        EXPECT_EQ(refused.out, "");
        EXPECT_THAT(refused.err, testing::StartsWith("becalm: " + path + ": "));
        EXPECT_THAT(refused.err, HasSubstr("--scale"));

        Signal stored;
        for (const double value : x)
            stored.push_back(std::ldexp(static_cast<double>(std::llround(std::ldexp(value, bits - 1))), 1 - bits));
        const json lanes = lanes_of(call({"weigh", path, "--weighting", "none", "--scale", "49.03325", "--json", "-"}));
        expect_lane(lanes.at(0), naive(part(stored, 0, stored.size(), mean(stored, stored.size()), 49.03325), 1000.0));
    }
}

TEST(Weigh, FloatSamplesAndTextHaveAScaleOfOne)
{
    const ScratchFolder folder;
    const Signal x = as_stored(noise(2.0, 1000.0, 0.1, 2));
    const Naive expected = naive(part(x, 0, x.size(), mean(x, x.size())), 1000.0);
    expect_lane(
        lanes_of(call({"weigh", folder.file("a.wav", wav({x}, 1000)), "--weighting", "none", "--json", "-"})).at(0),
        expected);
    expect_lane(
        lanes_of(call({"weigh", folder.file("a.csv", csv({x}, 1000.0, "z")), "--weighting", "none", "--json", "-"}))
            .at(0),
        expected);
    expect_lane(lanes_of(call({"weigh", folder.file("b.csv", csv({x}, 1000.0, "z", "\r\n")), "--weighting", "none",
                               "--json", "-"}))
                    .at(0),
                expected);
}

TEST(Weigh, SaysWhereTimesAndRateDisagree)
{
    const ScratchFolder folder;
    std::string text = "Sampling rate;1000 Hz\nTime [s];z [m/s2]\n"; // and rows 1.0003 ms apart
    for (int i = 0; i < 8000; ++i) text += fmt::format("{:.7f};{:.5f}\n", i * 0.0010003, std::sin(i / 7.0));
    const std::string path = folder.file("a.csv", text);
    EXPECT_THAT(call({"weigh", path, "--weighting", "none"}).out, HasSubstr("by its time column it runs at 999.7"));
    EXPECT_THAT(call({"spectrum", path}).out, HasSubstr("by its time column it runs at 999.7"));
}

TEST(Weigh, AxesInEveryForm)
{
    const ScratchFolder folder;
    const Signal a = noise(2.0, 1000.0, 0.1, 1), b = noise(2.0, 1000.0, 0.2, 2), c = noise(2.0, 1000.0, 0.3, 3);
    const std::string three = folder.file("three.csv", csv({a, b, c}, 1000.0, "a,b,c"));
    const std::string two = folder.file("two.csv", csv({a, b}, 1000.0, "a,b"));
    using Mapped = std::vector<std::pair<int, std::string>>;
    const auto mapped = [&](const std::string& path, std::vector<std::string> more) {
        std::vector<std::string> arguments{"weigh", path, "--weighting", "none", "--json", "-"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        Mapped result;
        for (const json& lane : lanes_of(call(arguments))) result.emplace_back(lane.at("channel"), lane.at("axis"));
        return result;
    };
    EXPECT_EQ(mapped(three, {}), (Mapped{{1, "x"}, {2, "y"}, {3, "z"}}));
    EXPECT_EQ(mapped(three, {"--axes", "z"}), (Mapped{{1, "z"}}));
    EXPECT_EQ(mapped(three, {"--axes", "z,y,x"}), (Mapped{{1, "z"}, {2, "y"}, {3, "x"}}));
    EXPECT_EQ(mapped(three, {"--axes", "1=x,3=z"}), (Mapped{{1, "x"}, {3, "z"}}));
    EXPECT_EQ(mapped(three, {"--axes", "3=rx,1=ry"}), (Mapped{{3, "rx"}, {1, "ry"}}));
    EXPECT_EQ(mapped(two, {"--axes", "x,y"}), (Mapped{{1, "x"}, {2, "y"}}));
    expect_lane(lanes_of(call({"weigh", three, "--weighting", "none", "--axes", "1=x,3=z", "--json", "-"})).at(1),
                naive(part(c, 0, c.size(), mean(c, c.size())), 1000.0));

    // Rotations: their unit is told, doses in m/s^1.75 are not, and no unit of one serves the other.
    const std::vector<std::string> roll{"weigh", three, "--weighting", "We", "--axes", "1=rx", "--unit", "deg/s2"};
    const Outcome shown = call(roll);
    EXPECT_EQ(shown.code, 0) << shown.err;
    EXPECT_THAT(shown.out, HasSubstr("rad/s2             -             -"));
    EXPECT_THAT(call({"weigh", three, "--weighting", "We", "--axes", "1=rx"}).out, HasSubstr("rad/s2"));
    const Outcome upright = call({"weigh", three, "--weighting", "Wk", "--axes", "z", "--unit", "rad/s2"});
    EXPECT_EQ(upright.code, 2);
    EXPECT_THAT(upright.err, HasSubstr("the axis z is not told in rad/s2; name the axis rx, ry or rz"));
    const Outcome rolling = call({"weigh", three, "--weighting", "We", "--axes", "rx", "--unit", "g"});
    EXPECT_EQ(rolling.code, 2);
    EXPECT_THAT(rolling.err, HasSubstr("the axis rx is not told in g; give the unit of the rotation"));

    // Nobody can know what two channels are.
    const Outcome unknown = call({"weigh", two, "--weighting", "none"});
    EXPECT_EQ(unknown.code, 2);
    EXPECT_EQ(
        unknown.err,
        "becalm: " + two +
            ": the recording has 2 channels and their axes are not known; name them, for example --axes 1=x,2=y,3=z\n");
}

TEST(Weigh, SeveralWeightingsAndFilesInTheOrderGiven)
{
    const ScratchFolder folder;
    const std::string a = folder.file("a.csv", csv({noise(2.0, 1000.0, 0.1, 1)}, 1000.0, "z"));
    const std::string b = folder.file("b.csv", csv({noise(2.0, 1000.0, 0.2, 2)}, 1000.0, "z"));
    const json document = call({"weigh", b, a, "--weighting", "Wd,none,Wk", "--json", "-"}).json();
    ASSERT_EQ(document.at("files").size(), 2U);
    EXPECT_EQ(document.at("files").at(0).at("file"), b);
    EXPECT_EQ(document.at("files").at(1).at("file"), a);
    std::vector<std::string> weightings;
    for (const json& lane : document.at("files").at(0).at("lanes")) weightings.push_back(lane.at("weighting"));
    EXPECT_EQ(weightings, (std::vector<std::string>{"Wd", "none", "Wk"}));
}

TEST(Weigh, TheNumberOfThreadsChangesNoByte)
{
    const ScratchFolder folder;
    // One recording is long enough to be cut into spans.
    const std::vector<std::string> paths{folder.file("long.wav", wav({noise(4000.0, 256.0, 0.1, 1)}, 256)),
                                         folder.file("a.wav", wav({noise(20.0, 1000.0, 0.1, 2)}, 1000)),
                                         folder.file("b.wav", wav({noise(31.7, 512.0, 0.1, 3)}, 512))};
    std::vector<std::string> outputs;
    for (const char* jobs : {"1", "2", "5"}) {
        std::vector<std::string> arguments{"weigh", "--weighting", "Wk,Wd,none", "--json", "-", "--jobs", jobs};
        arguments.insert(arguments.end(), paths.begin(), paths.end());
        const Outcome outcome = call(arguments);
        EXPECT_EQ(outcome.code, 0) << outcome.err;
        outputs.push_back(outcome.out);
    }
    EXPECT_EQ(outputs[1], outputs[0]);
    EXPECT_EQ(outputs[2], outputs[0]);
}

TEST(Weigh, JsonToAFileLeavesTheTextForPeopleOnTheOutput)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", wav({noise(2.0, 1000.0, 0.1, 1)}, 1000));
    const Outcome outcome = call({"weigh", path, "--weighting", "Wk", "--json", folder.path("out.json")});
    EXPECT_EQ(outcome.code, 0);
    EXPECT_THAT(outcome.out, HasSubstr("r.m.s."));
    EXPECT_EQ(content_of(folder.path("out.json")), call({"weigh", path, "--weighting", "Wk", "--json", "-"}).out);
}

TEST(Weigh, ABadFileSpoilsItsOwnEntryOnly)
{
    const ScratchFolder folder;
    const std::string good = folder.file("good.wav", wav({noise(2.0, 1000.0, 0.1, 1)}, 1000));
    const std::string missing = folder.path("missing.wav");
    const Outcome outcome = call({"weigh", missing, good, missing, "--weighting", "Wk", "--json", "-"});
    EXPECT_EQ(outcome.code, 3);
    const std::string line = missing + ": there is no such file; check the name and the folder";
    EXPECT_EQ(outcome.err, "becalm: " + line + "\nbecalm: " + line + "\n");
    const json files = outcome.json().at("files");
    ASSERT_EQ(files.size(), 3U);
    for (const std::size_t bad : {0U, 2U}) {
        EXPECT_EQ(files.at(bad).at("lanes"), json::array());
        EXPECT_TRUE(files.at(bad).at("sha256").is_null());
        ASSERT_EQ(files.at(bad).at("findings").size(), 1U);
        EXPECT_EQ(files.at(bad).at("findings").at(0).at("severity"), "refusal");
        EXPECT_EQ(files.at(bad).at("findings").at(0).at("message"), line);
    }
    EXPECT_TRUE(files.at(1).at("lanes").at(0).at("rms").is_number());
}

TEST(Weigh, ValuesThatDoNotExistAreNull)
{
    const ScratchFolder folder;
    Signal lost = noise(3.0, 1000.0, 0.1, 1);
    lost[1234] = std::numeric_limits<double>::quiet_NaN();
    const std::string slow = folder.file("slow.wav", wav({noise(20.0, 100.0, 0.1, 1)}, 100));
    const std::vector<std::vector<std::string>> cases{
        {folder.file("lost.wav", wav({lost}, 1000)), "none"},
        {slow, "Wk"},
        {folder.file("a.wav", wav({noise(3.0, 1000.0, 0.1, 1)}, 1000)), "none", "--scale", "1e300"}};
    for (const auto& c : cases) {
        std::vector<std::string> arguments{"weigh", "--json", "-", c[0], "--weighting"};
        arguments.insert(arguments.end(), c.begin() + 1, c.end());
        const Outcome outcome = call(arguments);
        EXPECT_EQ(outcome.code, 3) << c[0];
        const json file = outcome.json().at("files").at(0);
        for (const char* key : {"rms", "peak", "crest_factor", "mtvv_linear", "mtvv_exponential", "vdv", "msdv"})
            EXPECT_TRUE(file.at("lanes").at(0).at(key).is_null()) << c[0] << " " << key;
        EXPECT_EQ(file.at("findings").at(0).at("severity"), "refusal") << c[0];
    }
    const json findings =
        call({"weigh", slow, "--weighting", "Wk", "--json", "-"}).json().at("files").at(0).at("findings");
    EXPECT_EQ(findings.at(0).at("code"), "rate-too-low");
    EXPECT_EQ(findings.at(0).at("message"),
              "a rate of 100 Hz is too low for the weighting Wk; measure with at least 256 Hz");
}

TEST(Weigh, AFindingTellsChannelAndTime)
{
    const ScratchFolder folder;
    Signal x = noise(4.0, 1000.0, 0.1, 1);
    for (std::size_t i = 2500; i < 2510; ++i) x[i] = 2.0; // ten samples at the highest value
    const json file = call({"weigh", folder.file("a.wav", wav({noise(4.0, 1000.0, 0.1, 9), x}, 1000)), "--axes", "2=z",
                            "--weighting", "Wk", "--json", "-"})
                          .json()
                          .at("files")
                          .at(0);
    ASSERT_EQ(file.at("findings").size(), 1U);
    EXPECT_EQ(file.at("findings").at(0).at("code"), "clipped");
    EXPECT_EQ(file.at("findings").at(0).at("severity"), "refusal");
    EXPECT_EQ(file.at("findings").at(0).at("channel"), 2);
    EXPECT_EQ(file.at("findings").at(0).at("at_s"), 2.5);
}

TEST(Response, WritesTheFieldsOfTheContract)
{
    const Outcome outcome =
        call({"response", "--weighting", "Wk", "--rate", "1000", "--at", "0.5,1,2,8,63", "--json", "-"});
    EXPECT_EQ(outcome.code, 0);
    EXPECT_EQ(outcome.err, "");
    const json document = outcome.json();
    EXPECT_EQ(document.at("schema"), "becalm.response/1");
    EXPECT_EQ(document.at("weighting"), "Wk");
    EXPECT_EQ(document.at("rate_hz"), 1000.0);
    EXPECT_TRUE(document.at("latency_samples").is_number_integer());
    ASSERT_EQ(document.at("points").size(), 5U);
    for (const json& point : document.at("points")) {
        const auto expected = weighting("Wk", point.at("hz"));
        const double degrees = std::arg(expected) * 180.0 / std::numbers::pi;
        EXPECT_NEAR(point.at("analytic_magnitude").get<double>(), std::abs(expected), 1e-9);
        EXPECT_NEAR(point.at("analytic_phase_deg").get<double>(), degrees, 1e-7);
        EXPECT_NEAR(point.at("magnitude").get<double>(), std::abs(expected),
                    1e-4 * std::abs(expected));                          // what a weighting promises: 0.01 %
        EXPECT_NEAR(point.at("phase_deg").get<double>(), degrees, 0.01); // and 0.01 degrees
    }
}

TEST(Response, OfVelocityAndDisplacementHasTheDerivativeInIt)
{
    for (const auto& [input, order] :
         {std::pair("acceleration", 0), std::pair("velocity", 1), std::pair("displacement", 2)}) {
        const json document =
            call({"response", "--weighting", "Wm", "--rate", "2048", "--at", "10", "--input", input, "--json", "-"})
                .json();
        const double expected = std::abs(weighting("Wm", 10.0)) * std::pow(2.0 * std::numbers::pi * 10.0, order);
        EXPECT_NEAR(document.at("points").at(0).at("magnitude").get<double>(), expected, 1e-4 * expected) << input;
        EXPECT_NEAR(document.at("points").at(0).at("analytic_magnitude").get<double>(), expected, 1e-9 * expected)
            << input;
    }
}

TEST(Response, SaysWhatComesOut)
{
    for (const auto& [name, input, output] :
         {std::tuple("Wk", "velocity", "acceleration"), std::tuple("flat", "displacement", "acceleration"),
          std::tuple("KB", "acceleration", "velocity"), std::tuple("velocity", "velocity", "velocity"),
          std::tuple("none", "displacement", "displacement")}) {
        const std::vector<std::string> arguments{"response", "--weighting", name,      "--rate", "2048",
                                                 "--at",     "10",          "--input", input};
        std::vector<std::string> as_json = arguments;
        as_json.insert(as_json.end(), {"--json", "-"});
        EXPECT_EQ(call(as_json).json().at("output"), output);
        EXPECT_THAT(call(arguments).out, HasSubstr(fmt::format("{} from {} to {} at 2048 Hz", name, input, output)));
    }
}

TEST(Response, RefusesWhatItCannotShow)
{
    const Outcome slow = call({"response", "--weighting", "Wk", "--rate", "100"});
    EXPECT_EQ(slow.code, 3);
    EXPECT_EQ(slow.err, "becalm: a rate of 100 Hz is too low for the weighting Wk; measure with at least 256 Hz\n");
    for (const char* at : {"600", "-1", "nan"}) {
        const Outcome outside = call({"response", "--weighting", "Wk", "--rate", "1000", "--at", at});
        EXPECT_EQ(outside.code, 2) << at;
        EXPECT_THAT(outside.err, HasSubstr("lies outside 0 to half the rate (500 Hz)")) << at;
    }
}

// Two channels at uneven times about 1/500 s: 24 sines of no common period up to 21 Hz, and half of them. Every command
// that reads samples puts them onto an even rate where it is asked to, and says so.
TEST(Resample, IsAnOptionWhereverSamplesAreRead)
{
    const ScratchFolder folder;
    std::string text = "time,z,x\n";
    for (int i = 0; i < 500 * 40; ++i) {
        const double t = (i + (i % 3 == 1 ? 0.2 : 0.0)) / 500.0;
        double value = 0.0;
        for (int k = 1; k <= 24; ++k)
            value += 0.2 * std::sin(2.0 * std::numbers::pi * (1.0 + 0.83 * k + 0.3 * std::sin(k * k)) * t + k * k);
        text += fmt::format("{:.6f},{:.9f},{:.9f}\n", t, value, 0.5 * value);
    }
    const std::string path = folder.file("odd.csv", text);
    for (std::vector<std::string> line : std::vector<std::vector<std::string>>{
             {"weigh", path, "--weighting", "none", "--axes", "z,x", "--json", "-"},
             {"spectrum", path, "--axes", "z", "--json", "-"},
             {"history", path, "--high-pass", "1", "--json", "-"},
             {"relate", path, "--reference", "1", "--json", "-"},
             {"align", path, path, "--json", "-"},
             {"decay", path, "--above", "5", "--below", "20", "--ambient", "--json", "-"}}) {
        const Outcome refused = call(line);
        EXPECT_NE(refused.code, 0) << line[0];
        EXPECT_THAT(refused.err, HasSubstr("resample it to an even rate")) << line[0];
        line.insert(line.end(), {"--resample", "500"});
        const Outcome outcome = call(line);
        EXPECT_TRUE(outcome.code == 0 || line[0] == "decay") << line[0] << ": " << outcome.err;
        EXPECT_THAT(outcome.out, HasSubstr("\"code\": \"resampled\"")) << line[0];
        EXPECT_THAT(outcome.out, HasSubstr("were put onto 500 Hz by cubic interpolation")) << line[0];
    }
    const Outcome outcome =
        call({"weigh", path, "--weighting", "none", "--axes", "z", "--resample", "500", "--json", "-"});
    EXPECT_NEAR(outcome.json().at("files").at(0).at("lanes").at(0).at("rms").get<double>(), 0.2 * std::sqrt(12.0),
                0.02);
    EXPECT_EQ(call({"weigh", path, "--weighting", "none", "--resample", "0"}).code, 2);
    const Outcome converted = call({"convert", path, "--uff", folder.path("even.uff"), "--resample", "500"});
    EXPECT_EQ(converted.code, 0) << converted.err;
    EXPECT_THAT(call({"weigh", folder.path("even.uff"), "--weighting", "none", "--axes", "z,x"}).err,
                testing::IsEmpty());
}

// ---- ledger ----

// From noon to noon, z under Wm: 0.5 m/s2 until midnight, 0.01 after it, where the channel is clipped for a second.
std::string made_ledger(const ScratchFolder& folder)
{
    const std::string path = folder.path("point.ledger");
    auto writer = io::LedgerFolderWriter::create(path, {.file = "point",
                                                        .start = "2026-03-14T12:00:00+01:00",
                                                        .rate_hz = 1000.0,
                                                        .lanes = {{1, Axis::z, WeightingId::Wm}},
                                                        .units = {"m/s2"},
                                                        .recorded_unit = "m/s2"});
    EXPECT_TRUE(writer);
    std::vector<std::vector<LedgerRow>> rows(1);
    for (int second = 0; second < 86400; ++second) {
        const double rms = second < 43200 ? 0.5 : 0.01;
        rows[0].push_back({.samples = 1000,
                           .sum_squares = rms * rms * 1000.0,
                           .sum_fourths = 3.0 * rms * rms * rms * rms * 1000.0,
                           .peak = 3.0 * rms,
                           .linear_rms = rms,
                           .linear_rms_within = rms,
                           .exponential_rms_slow = rms,
                           .exponential_rms_fast = rms});
    }
    EXPECT_TRUE((*writer)->append(rows));
    std::vector<Finding> findings{{.severity = Severity::refusal,
                                   .code = "clipped",
                                   .message = "channel 1 is clipped",
                                   .channel = 1,
                                   .from_s = 50000.2,
                                   .to_s = 50000.4,
                                   .spans = {{50000.0, 50001.0}}}};
    const std::vector<io::LedgerFolderWriter::Fitness> fitness{{.why_unfit = "channel 1 is clipped"}};
    EXPECT_TRUE((*writer)->commit(fitness, std::move(findings)));
    return path;
}

// ISO 6954:2000 for passenger cabins, from memory: adverse comments are probable above 0.143 m/s2.
TEST(Ledger, JudgesEachDayAndExitsAsTheContractSays)
{
    const ScratchFolder folder;
    const std::string ledger = made_ledger(folder);
    const auto ask = [&](std::vector<std::string> more, const std::string& criterion = "iso6954-2000") {
        std::vector<std::string> arguments{"ledger",    ledger,   "--criterion", criterion,
                                           "--setting", "vessel", "--use",       "passenger-cabin"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        return call(arguments);
    };
    const json answer = ask({"--by-day", "--sensor-uncertainty", "4", "--json", "-"}).json();
    EXPECT_EQ(answer.at("judged_as"), json({{"setting", "vessel"}, {"use", "passenger-cabin"}, {"position", "floor"}}));
    ASSERT_EQ(answer.at("stretches").size(), 2U);
    const json first = answer.at("stretches")[0].at("verdicts").at(0);
    EXPECT_TRUE(first.at("judged").get<bool>());
    EXPECT_NEAR(first.at("value").get<double>(), 0.5, 1e-12); // steady
    EXPECT_EQ(first.at("unit"), "m/s2");
    EXPECT_EQ(first.at("axis"), "z");
    EXPECT_EQ(first.at("band"), "adverse comments probable");
    EXPECT_TRUE(first.at("exceeded").get<bool>());
    EXPECT_GE(first.at("expanded_uncertainty").get<double>(), 0.04 * 0.5);
    const json second = answer.at("stretches")[1].at("verdicts").at(0);
    EXPECT_FALSE(second.at("judged").get<bool>());
    EXPECT_TRUE(second.at("value").is_null());
    EXPECT_THAT(second.at("why_not").get<std::string>(),
                HasSubstr("cannot be judged, because point: channel 1 is clipped"));

    const Outcome told = ask({"--by-day"});
    EXPECT_EQ(told.code, 0);
    EXPECT_THAT(told.out, HasSubstr("adverse comments probable, exceeded"));
    EXPECT_THAT(told.out, HasSubstr("2026-03-15: 43200 s: cannot be judged, because"));
    EXPECT_EQ(ask({"--by-day", "--fail-on-exceedance"}).code, 1);
    EXPECT_EQ(ask({"--from", "43200", "--leave-out", "50000-50001", "--fail-on-exceedance"}).code, 0); // 0.01 m/s2
    EXPECT_EQ(ask({"--from", "43200", "--fail-on-exceedance"}).code, 3); // clipped, and nothing else
    EXPECT_EQ(ask({}, "iso6954-1984").code, 3);                          // looks at spectra
    EXPECT_FALSE(call({"ledger", ledger, "--json", "-"}).json().contains("judged_as"));

    for (const auto& [arguments, what] : std::vector<std::pair<std::vector<std::string>, std::string>>{
             {{"--criterion", "iso6954-2000", "--use", "any"}, "a criterion judges in a setting, and none is named"},
             {{"--criterion", "iso6954-2000", "--setting", "ship", "--use", "any"}, "there is no setting \"ship\""},
             {{"--criterion", "iso6954-2000", "--setting", "vessel"}, "a criterion judges a use of the space"},
             {{"--criterion", "iso6954", "--setting", "vessel", "--use", "any"}, "there is no criterion \"iso6954\""},
             {{"--criterion", "iso6954-2000", "--setting", "vessel", "--use", "any", "--position", "desk"},
              "there is no position \"desk\""},
             {{"--fail-on-exceedance"}, "no criterion is named to judge by"}}) {
        std::vector<std::string> all{"ledger", ledger};
        all.insert(all.end(), arguments.begin(), arguments.end());
        const Outcome refused = call(all);
        EXPECT_EQ(refused.code, 2) << what;
        EXPECT_THAT(refused.err, HasSubstr(what));
    }
}

} // namespace
} // namespace becalm::tests

// A span as sound: the frequencies that a faster playback has, no clipping, soft ends; and a player that can be stopped
// and says why nothing is heard.
#include <QSignalSpy>
#include <atomic>
#include <cmath>
#include <numbers>
#include <thread>

#include "ui/desktop/sound.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using evaluators::tests::sine;
using ::testing::DoubleNear;
using ::testing::Eq;
using ::testing::Gt;
using ::testing::HasSubstr;
using ::testing::Le;
using ::testing::Lt;

std::vector<float> single(const evaluators::tests::Signal& signal) { return {signal.begin(), signal.end()}; }

// Amplitude of a frequency in the middle half.
double amplitude_at(const Sound& sound, double hz)
{
    const std::size_t from = sound.samples.size() / 4, to = 3 * sound.samples.size() / 4;
    double in_phase = 0.0, across = 0.0, weights = 0.0;
    for (std::size_t i = from; i < to; ++i) {
        const double window = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * static_cast<double>(i - from) /
                                                   static_cast<double>(to - from));
        const double phase = 2.0 * std::numbers::pi * hz * static_cast<double>(i) / sound.rate_hz;
        in_phase += window * static_cast<double>(sound.samples[i]) * std::cos(phase);
        across += window * static_cast<double>(sound.samples[i]) * std::sin(phase);
        weights += window;
    }
    return 2.0 * std::hypot(in_phase, across) / weights;
}

TEST(SoundOf, RaisesEveryFrequencyByTheFactor)
{
    for (const double factor : {1.0, 4.0, 10.0, 20.0}) {
        const double device_hz = 48000.0;
        const auto sound = sound_of(single(sine(0.02, 40.0, 2048.0, 20.0)), 2048.0, factor, device_hz);
        ASSERT_TRUE(sound) << to_text(sound.error());
        EXPECT_THAT(static_cast<double>(sound->samples.size()), DoubleNear(20.0 / factor * device_hz, 1.0)) << factor;
        EXPECT_THAT(amplitude_at(*sound, 40.0 * factor), DoubleNear(sound_peak, 2e-3)) << factor;
        EXPECT_THAT(amplitude_at(*sound, 55.0 * factor), Lt(1e-3)) << factor;
        EXPECT_THAT(sound->gain * 0.02, DoubleNear(sound_peak, 2e-3)) << factor;
    }
}

TEST(SoundOf, FoldsNothingBackWhereTheDeviceIsSlower)
{
    // 900 Hz, 20 times as fast, is 18 kHz: beyond the half of 8 kHz, and would come back at 2 kHz.
    evaluators::tests::Signal both = sine(1.0, 900.0, 2048.0, 20.0);
    const evaluators::tests::Signal low = sine(0.1, 50.0, 2048.0, 20.0);
    for (std::size_t i = 0; i < both.size(); ++i) both[i] += low[i];
    const auto sound = sound_of(single(both), 2048.0, 20.0, 8000.0);
    ASSERT_TRUE(sound);
    EXPECT_THAT(amplitude_at(*sound, 2000.0), Lt(2e-3));
    EXPECT_THAT(amplitude_at(*sound, 1000.0), Gt(0.8));
}

TEST(SoundOf, NeverClipsAndBeginsAndEndsSoftly)
{
    const std::vector<float> samples = single(evaluators::tests::noise(30000, 7));
    const auto sound = sound_of(samples, 1000.0, 10.0, 44100.0);
    ASSERT_TRUE(sound);
    float greatest = 0.0F;
    for (const float sample : sound->samples) greatest = std::max(greatest, std::abs(sample));
    EXPECT_THAT(static_cast<double>(greatest), DoubleNear(sound_peak, 1e-6));
    EXPECT_THAT(sound->samples.front(), Eq(0.0F));
    EXPECT_THAT(sound->samples.back(), Eq(0.0F));
    const auto fade = static_cast<std::size_t>(sound_fade_s * 44100.0);
    for (std::size_t i = 0; i < fade / 4; ++i) EXPECT_THAT(std::abs(sound->samples[i]), Le(0.2F));
}

TEST(SoundOf, PlaysNoOffsetAndSurvivesSamplesThatAreNoNumbers)
{
    std::vector<float> samples = single(sine(0.02, 40.0, 2048.0, 5.0));
    for (float& sample : samples) sample += 9.8F;
    samples[100] = std::nanf("");
    samples[200] = HUGE_VALF;
    const auto sound = sound_of(samples, 2048.0, 10.0, 48000.0);
    ASSERT_TRUE(sound);
    EXPECT_THAT(amplitude_at(*sound, 400.0), Gt(0.85));
    for (const float sample : sound->samples) ASSERT_TRUE(std::isfinite(sample));
    const auto still = sound_of(std::vector<float>(4096, 9.81F), 2048.0, 10.0, 48000.0);
    ASSERT_TRUE(still);
    EXPECT_THAT(still->gain, Eq(0.0));
}

TEST(SoundOf, RefusesNothingAndTooMuch)
{
    EXPECT_FALSE(sound_of({}, 1000.0, 1.0, 48000.0).has_value());
    const std::vector<float> long_one(310000, 0.5F);
    const auto refused = sound_of(long_one, 1000.0, 1.0, 48000.0);
    ASSERT_FALSE(refused.has_value());
    EXPECT_THAT(to_text(refused.error()), HasSubstr("play it faster"));
}

// Keeps what it is given, and takes its time.
struct Heard {
    std::atomic<std::size_t> samples = 0;
    std::atomic<bool> closed = false;
};
class TestOutput final : public SoundOutput {
public:
    TestOutput(Heard& heard, bool there, int wait_ms) : heard_(heard), there_(there), wait_ms_(wait_ms) {}
    Result<double> open() override
    {
        if (!there_) return fail({.what = "no sound could be played: this computer has no sound device"});
        return 48000.0;
    }
    Result<void> write(std::span<const float> mono) override
    {
        heard_.samples += mono.size();
        std::this_thread::sleep_for(std::chrono::milliseconds(wait_ms_));
        return {};
    }
    void close(bool) override { heard_.closed = true; }

private:
    Heard& heard_;
    bool there_;
    int wait_ms_;
};

class APlayer : public testing::Test {
protected:
    SoundPlayer::MakeOutput output(bool there, int wait_ms)
    {
        return [this, there, wait_ms] { return std::make_unique<TestOutput>(heard_, there, wait_ms); };
    }
    SoundRequest request() const { return {.path = path_, .from_s = 2.0, .to_s = 12.0, .factor = 10.0}; }

    ScratchFolder folder_;
    std::string path_ = evaluators::tests::wav(folder_, "tone.wav", 400, {sine(0.1, 20.0, 400.0, 20.0)});
    Heard heard_;
};

TEST_F(APlayer, PlaysTheSpanAndEnds)
{
    SoundPlayer player(output(true, 0));
    QSignalSpy began(&player, &SoundPlayer::began), failed(&player, &SoundPlayer::failed);
    player.play(request());
    EXPECT_TRUE(player.is_playing());
    ASSERT_TRUE(wait_until([&] { return !player.is_playing(); }));
    ASSERT_EQ(began.count(), 1);
    EXPECT_THAT(began.at(0).at(0).toDouble(), DoubleNear(1.0, 1e-6));
    EXPECT_THAT(began.at(0).at(1).toDouble(), DoubleNear(9.0, 0.1));
    EXPECT_EQ(heard_.samples.load(), 48000U);
    EXPECT_TRUE(heard_.closed.load());
    EXPECT_EQ(failed.count(), 0);
}

TEST_F(APlayer, StopsAtOnce)
{
    SoundPlayer player(output(true, 50));
    player.play(request());
    ASSERT_TRUE(wait_until([&] { return heard_.samples > 0; }));
    player.stop();
    EXPECT_FALSE(player.is_playing());
    ASSERT_TRUE(wait_until([&] { return heard_.closed.load(); }, 5000));
    EXPECT_LT(heard_.samples.load(), 48000U);
}

TEST_F(APlayer, SaysWhyNothingIsHeard)
{
    SoundPlayer player(output(false, 0));
    QSignalSpy failed(&player, &SoundPlayer::failed);
    player.play(request());
    ASSERT_TRUE(wait_until([&] { return failed.count() == 1; }));
    EXPECT_THAT(failed.at(0).at(0).toString().toStdString(), HasSubstr("no sound device"));
    EXPECT_FALSE(player.is_playing());
    player.play({.path = folder_.path("gone.wav"), .to_s = 1.0});
    ASSERT_TRUE(wait_until([&] { return failed.count() == 2; }));
    EXPECT_THAT(failed.at(1).at(0).toString().toStdString(), HasSubstr("gone.wav"));
}

} // namespace
} // namespace becalm::desktop::tests

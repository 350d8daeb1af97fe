// A span of a recording as sound.
//
// Vibration of 1 Hz to 80 Hz is hardly heard: it is played faster, which raises every frequency by the same factor, and
// as loud as goes without clipping. What is heard is for finding a knock or a rattle, never for judging by ear.
//
// The conversion is a pure function: mean taken away, resampled by a windowed sinc (Blackman, 16 zero crossings a side;
// where the device's rate is the lower one the sinc cuts at half of it), scaled to the chosen peak, faded in and out.
#pragma once

#include <QObject>
#include <QString>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "src/base/problem.h"
#include "ui/desktop/latest_task.h"

namespace becalm::desktop {

inline constexpr double sound_peak = 0.9;    // not a limit: part of full scale
inline constexpr double sound_fade_s = 0.02; // not a limit: at either end, of what is heard
inline constexpr double longest_sound_s = 300.0;

struct Sound {
    double rate_hz = 0.0; // of the device
    std::vector<float> samples = {};
    double gain = 0.0; // sample played = (sample - mean) * gain; 0: silence
};

// `samples` at `rate_hz` > 0, played `factor` > 0 times as fast on a device of `device_hz` > 0. Samples that are no
// numbers are played as the mean. A Problem: nothing to play, or longer than `longest_sound_s`.
Result<Sound> sound_of(std::span<const float> samples, double rate_hz, double factor, double device_hz);

// Where sound goes. All of it is called from one thread, not that of the window.
class SoundOutput {
public:
    virtual ~SoundOutput() = default;
    virtual Result<double> open() = 0;                           // its rate, Hz
    virtual Result<void> write(std::span<const float> mono) = 0; // waits while the device is full
    virtual void close(bool at_once) = 0;                        // else plays what was written
};

// The device that the system names as the usual one (PortAudio).
std::unique_ptr<SoundOutput> usual_sound_output();

struct SoundRequest {
    std::string path = {};
    std::optional<double> resample_hz = {}; // io::ReadOptions
    int channel = 1;                        // from 1
    double to_si = 1.0;                     // of a stored value
    double from_s = 0.0, to_s = 0.0;
    double factor = 10.0;
};

// Reads, converts and plays off the interface thread, one thing at a time.
class SoundPlayer final : public QObject {
    Q_OBJECT

public:
    using MakeOutput = std::function<std::unique_ptr<SoundOutput>()>;
    explicit SoundPlayer(MakeOutput make_output = usual_sound_output, QObject* parent = nullptr);

    void set_output(MakeOutput make_output) { make_output_ = std::move(make_output); }
    void play(const SoundRequest& request);
    void stop();
    bool is_playing() const { return playing_; }

signals:
    void playing_changed();
    void began(double heard_s, double gain); // gain: full scale is 1 / gain in the SI unit
    void failed(const QString& why);

private:
    MakeOutput make_output_;
    bool playing_ = false;
    std::uint64_t number_ = 0;
    LatestTask<Result<void>> task_; // last: it ends before the rest
};

} // namespace becalm::desktop

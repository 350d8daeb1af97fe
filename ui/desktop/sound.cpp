#include "ui/desktop/sound.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <mutex>
#include <numbers>
#include <portaudio.h>

#include <fmt/format.h>

#include "src/io/recording_reader.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

constexpr int crossings = 16;         // of the sinc, on either side
constexpr int steps_a_crossing = 512; // of the table, straight between them
constexpr std::size_t frames_a_write = 1024;

// sinc(x) under a Blackman window over `crossings`, x in zero crossings.
class Kernel {
public:
    Kernel()
    {
        for (std::size_t i = 0; i < table_.size(); ++i) {
            const double x = static_cast<double>(i) / steps_a_crossing;
            const double sinc = i == 0 ? 1.0 : std::sin(std::numbers::pi * x) / (std::numbers::pi * x);
            const double phase = std::numbers::pi * x / crossings;
            const double outer = 0.08; // not a limit: of Blackman's window (common practice, no source)
            const double window =
                x < crossings ? (0.5 - outer) + 0.5 * std::cos(phase) + outer * std::cos(2.0 * phase) : 0.0;
            table_[i] = sinc * window;
        }
    }

    double at(double x) const
    {
        const double place = std::abs(x) * steps_a_crossing;
        const auto i = static_cast<std::size_t>(place);
        if (i + 1 >= table_.size()) return 0.0;
        const double part = place - static_cast<double>(i);
        return table_[i] + part * (table_[i + 1] - table_[i]);
    }

private:
    std::array<double, static_cast<std::size_t>(crossings)* steps_a_crossing + 2> table_ = {};
};

// At t = k * step source samples, k < count. `step` > 1 lowers the rate, and the sinc cuts at the new half of it.
std::vector<double> resampled(std::span<const double> source, double step, std::size_t count)
{
    static const Kernel kernel;
    const double cut = std::min(1.0, 1.0 / step);
    const double reach = crossings / cut;
    std::vector<double> result(count);
    for (std::size_t k = 0; k < count; ++k) {
        const double t = static_cast<double>(k) * step;
        const auto from = static_cast<std::ptrdiff_t>(std::max(0.0, std::ceil(t - reach)));
        const auto to =
            static_cast<std::ptrdiff_t>(std::min(static_cast<double>(source.size()) - 1.0, std::floor(t + reach)));
        double sum = 0.0;
        for (std::ptrdiff_t i = from; i <= to; ++i)
            sum += source[static_cast<std::size_t>(i)] * kernel.at((t - static_cast<double>(i)) * cut);
        result[k] = sum * cut;
    }
    return result;
}

Problem no_device(const std::string& why)
{
    return {.kind = ProblemKind::outside_world,
            .what = "no sound could be played: " + why,
            .remedy = "connect a loudspeaker or headphones, or choose a sound device in the system's settings"};
}

class PortAudioOutput final : public SoundOutput {
public:
    ~PortAudioOutput() override { PortAudioOutput::close(true); }

    Result<double> open() override
    {
        if (const PaError error = Pa_Initialize(); error != paNoError) return fail(no_device(Pa_GetErrorText(error)));
        begun_ = true;
        const PaDeviceIndex index = Pa_GetDefaultOutputDevice();
        const PaDeviceInfo* device = index == paNoDevice ? nullptr : Pa_GetDeviceInfo(index);
        if (device == nullptr) return fail(no_device("this computer has no sound device"));
        const PaStreamParameters parameters{.device = index,
                                            .channelCount = 1,
                                            .sampleFormat = paFloat32,
                                            .suggestedLatency = device->defaultHighOutputLatency,
                                            .hostApiSpecificStreamInfo = nullptr};
        const double rate = device->defaultSampleRate;
        PaError error = Pa_OpenStream(&stream_, nullptr, &parameters, rate, frames_a_write, paNoFlag, nullptr, nullptr);
        if (error == paNoError) error = Pa_StartStream(stream_);
        if (error != paNoError) return fail(no_device(Pa_GetErrorText(error)));
        return rate;
    }

    Result<void> write(std::span<const float> mono) override
    {
        const PaError error = Pa_WriteStream(stream_, mono.data(), mono.size());
        // A gap in what is heard is no reason to stop.
        if (error != paNoError && error != paOutputUnderflowed) return fail(no_device(Pa_GetErrorText(error)));
        return {};
    }

    void close(bool at_once) override
    {
        if (stream_ != nullptr) {
            if (at_once)
                Pa_AbortStream(stream_);
            else
                Pa_StopStream(stream_);
            Pa_CloseStream(stream_);
            stream_ = nullptr;
        }
        if (begun_) Pa_Terminate();
        begun_ = false;
    }

private:
    PaStream* stream_ = nullptr;
    bool begun_ = false;
};

std::optional<Problem> too_long(double frames, double rate_hz, double factor)
{
    if (frames / (rate_hz * factor) <= longest_sound_s) return std::nullopt;
    return Problem{.kind = ProblemKind::usage,
                   .what = fmt::format("that would take more than {:.0f} min to listen to", longest_sound_s / 60.0),
                   .remedy = "choose a shorter span or play it faster"};
}

Result<std::vector<float>> samples_of(const SoundRequest& request, double& rate_hz, const std::stop_token& stop)
{
    auto reader = io::open_recording(request.path, {.resample_hz = request.resample_hz});
    if (!reader) return fail(reader.error());
    const io::RecordingInfo& info = (*reader)->info();
    rate_hz = info.rate_hz;
    const auto channels = static_cast<std::size_t>(info.channels);
    const auto frame_at = [&](double s) { return std::clamp<std::int64_t>(std::llround(s * rate_hz), 0, info.frames); };
    const std::int64_t from = frame_at(request.from_s), to = frame_at(request.to_s);
    if (auto problem = too_long(static_cast<double>(to - from), rate_hz, request.factor))
        return fail(*std::move(problem));
    if (const auto sought = (*reader)->seek(from); !sought) return fail(sought.error());
    std::vector<float> samples;
    std::vector<double> block(std::size_t{16384} * channels);
    while (static_cast<std::int64_t>(samples.size()) < to - from && !stop.stop_requested()) {
        const auto read = (*reader)->read(block);
        if (!read) return fail(read.error());
        if (*read == 0) break;
        for (std::size_t i = 0; i < *read && static_cast<std::int64_t>(samples.size()) < to - from; ++i)
            samples.push_back(static_cast<float>(request.to_si *
                                                 block[i * channels + static_cast<std::size_t>(request.channel) - 1]));
    }
    return samples;
}

} // namespace

Result<Sound> sound_of(std::span<const float> samples, double rate_hz, double factor, double device_hz)
{
    if (samples.empty())
        return fail({.kind = ProblemKind::usage, .what = "there is nothing to play", .remedy = "choose a longer span"});
    if (auto problem = too_long(static_cast<double>(samples.size()), rate_hz, factor)) return fail(*std::move(problem));
    const double heard_s = static_cast<double>(samples.size()) / (rate_hz * factor);
    double sum = 0.0;
    std::size_t numbers = 0;
    for (const float sample : samples)
        if (std::isfinite(sample)) {
            sum += static_cast<double>(sample);
            ++numbers;
        }
    const double mean = numbers > 0 ? sum / static_cast<double>(numbers) : 0.0;
    std::vector<double> source(samples.size());
    std::ranges::transform(samples, source.begin(), [mean](float sample) {
        return std::isfinite(sample) ? static_cast<double>(sample) - mean : 0.0;
    });

    const auto count = std::max<std::size_t>(1, static_cast<std::size_t>(heard_s * device_hz));
    std::vector<double> heard = resampled(source, rate_hz * factor / device_hz, count);
    const double fade = std::min(sound_fade_s * device_hz, static_cast<double>(count) / 2.0);
    for (std::size_t i = 0; i < count; ++i) {
        const double from_end = static_cast<double>(std::min(i, count - 1 - i));
        if (from_end < fade) heard[i] *= 0.5 - 0.5 * std::cos(std::numbers::pi * from_end / fade);
    }
    double peak = 0.0;
    for (const double sample : heard) peak = std::max(peak, std::abs(sample));
    Sound sound{.rate_hz = device_hz, .samples = std::vector<float>(count)};
    // What is left of a constant after its mean is no signal.
    const bool silent = peak <= 1e-6 * std::abs(mean) || peak < 1e-30;
    sound.gain = silent ? 0.0 : sound_peak / peak;
    std::ranges::transform(heard, sound.samples.begin(),
                           [&](double sample) { return static_cast<float>(sample * sound.gain); });
    return sound;
}

std::unique_ptr<SoundOutput> usual_sound_output() { return std::make_unique<PortAudioOutput>(); }

SoundPlayer::SoundPlayer(MakeOutput make_output, QObject* parent)
    : QObject(parent), make_output_(std::move(make_output)), task_(*this, [this](const Result<void>& outcome) {
          playing_ = false;
          emit playing_changed();
          if (!outcome) emit failed(problem_words(outcome.error()));
      })
{
}

void SoundPlayer::play(const SoundRequest& request)
{
    playing_ = true;
    emit playing_changed();
    const std::uint64_t number = ++number_;
    const auto tell = [this, number](double heard_s, double gain) {
        QMetaObject::invokeMethod(
            this,
            [this, number, heard_s, gain] {
                if (number == number_) emit began(heard_s, gain);
            },
            Qt::QueuedConnection);
    };
    task_.request([request, tell, make_output = make_output_](const std::stop_token& stop) -> Result<void> {
        double rate_hz = 0.0;
        const auto samples = samples_of(request, rate_hz, stop);
        if (!samples) return fail(samples.error());
        if (stop.stop_requested()) return {};
        const std::unique_ptr<SoundOutput> output = make_output();
        const auto device_hz = output->open();
        if (!device_hz) return fail(device_hz.error());
        const auto sound = sound_of(*samples, rate_hz, request.factor, *device_hz);
        if (!sound) return fail(sound.error());
        tell(static_cast<double>(sound->samples.size()) / sound->rate_hz, sound->gain);
        std::span<const float> left(sound->samples);
        while (!left.empty() && !stop.stop_requested()) {
            const std::size_t count = std::min(left.size(), frames_a_write);
            if (const auto written = output->write(left.first(count)); !written) return fail(written.error());
            left = left.subspan(count);
        }
        output->close(stop.stop_requested());
        return {};
    });
}

void SoundPlayer::stop()
{
    task_.cancel();
    ++number_;
    if (!std::exchange(playing_, false)) return;
    emit playing_changed();
}

} // namespace becalm::desktop

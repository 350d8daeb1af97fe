// A recording over time, from the whole to single samples; spans to leave out, events, findings, and a span as sound.
#pragma once

#include <QComboBox>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QTableView>
#include <memory>
#include <optional>
#include <string>

#include "ui/desktop/page.h"
#include "ui/desktop/recording_samples.h"
#include "ui/desktop/sound.h"
#include "ui/desktop/span_editor.h"
#include "ui/desktop/span_model.h"
#include "ui/desktop/time_figures.h"
#include "ui/desktop/time_view.h"
#include "ui/desktop/time_window.h"

namespace becalm::desktop {

class WhenPage final : public Page {
    Q_OBJECT

public:
    explicit WhenPage(Session& session, QWidget* parent = nullptr);

    const TimeWindow& window() const { return window_; }
    void look_at(double from_s, double to_s);
    SoundPlayer& player() { return player_; }
    bool has_all_samples() const { return samples_.is_complete(); } // else coarser ones are shown meanwhile

protected:
    void refresh() override;

private:
    QWidget* make_curves();
    QWidget* make_lists();
    void fill_recordings();
    void fill_channels(bool same_recording);
    void fill_weightings();
    void fill_lists();
    void show_strip();
    void show_samples();
    void show_window(const TimeWindow& window);
    void show_trouble();
    void tell_effect();

    void select(std::optional<TimeSpan> span);
    void ask_for_reason();
    void leave_out();
    void mark_event();
    void change_span(const SpanModel::Span& span);
    void take_back();
    void play_or_stop();
    void go_to(const Finding& finding);

    const evaluators::Measured* measured() const; // null: nothing to show
    const Recording* listed() const;              // as the survey lists it now
    int channel() const;
    WeightingId weighting() const;
    TimeMarks marks() const;
    double to_si() const;
    double offset() const;

    // A verdict by what it is of, with its value in words.
    struct Told {
        std::shared_ptr<const Survey> survey = {};
        QString path = {}; // of the survey
        std::string space = {}, position = {}, condition = {}, criterion = {}, person = {};
        QString value = {}; // and band, in words
    };
    const Verdict* verdict_of(const Told& told) const;
    void settle_on_verdict();

    // What the strip was made from.
    struct StripOf {
        std::shared_ptr<const Judgement> judgement = {};
        std::shared_ptr<const Survey> survey = {};
        const evaluators::LaneResult* lane = nullptr;
        const Verdict* verdict = nullptr;

        friend bool operator==(const StripOf&, const StripOf&) = default;
    };
    // And the samples: a judgement that changes nothing in them is no reason to draw them again.
    struct SamplesOf {
        std::shared_ptr<const Survey> survey = {};
        std::uint64_t file = 0; // RecordingSamples::number()
        int channel = 0;
        TimeWindow window = {};
        double to_si = 0.0, offset = 0.0;
        std::size_t findings = 0;
        std::int64_t first = 0, step = 0; // of the envelope; 0: none
        std::size_t count = 0;

        friend bool operator==(const SamplesOf&, const SamplesOf&) = default;
    };

    std::shared_ptr<const Judgement> judgement_; // that the figures are of
    const Verdict* verdict_ = nullptr;           // in it: the one that is followed here
    Choice choice_seen_ = {};
    std::string shown_file_;
    TimeWindow window_ = {};
    std::optional<TimeSpan> selection_;
    std::vector<Finding> findings_;
    std::optional<Told> told_;
    StripOf strip_of_;
    SamplesOf samples_of_;

    RecordingSamples samples_;
    SoundPlayer player_;
    QComboBox *recording_box_, *channel_box_, *weighting_box_, *speed_box_;
    QLabel *condition_, *effect_, *trouble_, *heard_;
    TimeView *strip_, *curve_;
    SpanEditor* editor_;
    SpanModel* spans_;
    QTableView* table_;
    QListWidget* list_;
    QPushButton *play_, *take_back_;
};

} // namespace becalm::desktop

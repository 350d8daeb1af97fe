#include "ui/desktop/when_page.h"

#include <QCoreApplication>
#include <QDir>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QSplitter>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "src/io/survey_file.h"
#include "ui/desktop/span_edits.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

constexpr double least_samples = 8.0;    // of a window
constexpr std::size_t most_dots = 200;   // more of them are a line
constexpr double around_finding_s = 5.0; // shown on either side of it
constexpr double rounding_s = 1e-3;      // of what the mouse selects

QString severity_words(Severity severity)
{
    switch (severity) {
    case Severity::note: return QCoreApplication::translate("becalm::desktop::WhenPage", "note");
    case Severity::caution: return QCoreApplication::translate("becalm::desktop::WhenPage", "caution");
    case Severity::refusal: return QCoreApplication::translate("becalm::desktop::WhenPage", "cannot be judged");
    }
    return {};
}

QString weighting_words(WeightingId id)
{
    return id == WeightingId::none ? QCoreApplication::translate("becalm::desktop::WhenPage", "not weighted")
                                   : shown(name_of(id));
}

double rounded(double seconds) { return std::round(seconds / rounding_s) * rounding_s; }

QLabel* told_label(const QString& name)
{
    auto* label = new QLabel;
    label->setAccessibleName(name);
    label->setWordWrap(true);
    label->hide();
    return label;
}

void say(QLabel* label, const QString& words)
{
    label->setText(words);
    label->setVisible(!words.isEmpty());
}

} // namespace

WhenPage::WhenPage(Session& session, QWidget* parent) : Page(session, parent)
{
    recording_box_ = new QComboBox;
    recording_box_->setAccessibleName(tr("Recording"));
    recording_box_->setMinimumContentsLength(16);
    recording_box_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    recording_box_->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    channel_box_ = new QComboBox;
    channel_box_->setAccessibleName(tr("Channel"));
    weighting_box_ = new QComboBox;
    weighting_box_->setAccessibleName(tr("Weighting"));
    for (QComboBox* box : {channel_box_, weighting_box_}) box->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    condition_ = new QLabel;
    condition_->setAccessibleName(tr("Condition of the recording"));

    auto* top = new QHBoxLayout;
    top->addWidget(recording_box_, 2);
    top->addWidget(channel_box_);
    top->addWidget(weighting_box_);
    top->addWidget(condition_, 3);

    auto* halves = new QSplitter(Qt::Horizontal);
    halves->addWidget(make_curves());
    halves->addWidget(make_lists());
    halves->setStretchFactor(0, 3);
    halves->setStretchFactor(1, 1);
    halves->setCollapsible(0, false);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addLayout(top);
    column->addWidget(halves, 1);

    connect(recording_box_, &QComboBox::activated, this, [this] {
        Choice choice = session_.choice();
        choice.recording = plain(recording_box_->currentData().toString());
        choice.channel = 0;
        session_.choose(std::move(choice));
    });
    connect(channel_box_, &QComboBox::activated, this, [this] {
        Choice choice = session_.choice();
        choice.recording = shown_file_;
        choice.channel = channel();
        session_.choose(std::move(choice));
    });
    connect(weighting_box_, &QComboBox::activated, this, [this] { show_strip(); });
    connect(&samples_, &RecordingSamples::changed, this, [this] {
        show_trouble();
        if (isVisible()) show_samples();
    });
    connect(&player_, &SoundPlayer::playing_changed, this, [this] {
        play_->setText(player_.is_playing() ? tr("Stop playing") : tr("Play"));
        if (!player_.is_playing()) say(heard_, {});
    });
    connect(&player_, &SoundPlayer::failed, this, [this](const QString& why) { say(heard_, why); });
    connect(&player_, &SoundPlayer::began, this, [this](double heard_s, double gain) {
        const evaluators::Measured* of = measured();
        if (of == nullptr) return;
        if (gain <= 0.0) {
            say(heard_, tr("There is nothing but a constant in this span: silence."));
            return;
        }
        const figures::Numbers numbers = numbers_in(si_unit_of(of->motion, of->rotates));
        say(heard_, tr("Playing %1 s, %2; full scale of the sound is %3 %4, the offset is taken away.")
                        .arg(number_words(heard_s, 3), speed_box_->currentText(),
                             number_words(numbers.shown_per_unit / gain, 3), shown(numbers.unit)));
    });
}

QWidget* WhenPage::make_curves()
{
    strip_ = new TimeView;
    strip_->setObjectName(QStringLiteral("strip"));
    curve_ = new TimeView;
    curve_->setObjectName(QStringLiteral("samples"));
    strip_->setMinimumHeight(150);
    curve_->setMinimumHeight(150);
    for (TimeView* view : {strip_, curve_}) {
        connect(view, &TimeView::zoom_wanted, this, [this](std::optional<double> at_s, double factor) {
            show_window(window_.zoomed(at_s.value_or((window_.from_s + window_.to_s) / 2.0), factor));
        });
        connect(view, &TimeView::move_wanted, this, [this](double by_s) { show_window(window_.moved(by_s)); });
        connect(view, &TimeView::step_wanted, this,
                [this](double windows) { show_window(window_.moved(windows * window_.length_s())); });
        connect(view, &TimeView::beginning_wanted, this, [this] { show_window(window_.moved(-window_.whole_s)); });
        connect(view, &TimeView::end_wanted, this, [this] { show_window(window_.moved(window_.whole_s)); });
        connect(view, &TimeView::leave_out_wanted, this, &WhenPage::ask_for_reason);
        connect(view, &TimeView::play_wanted, this, &WhenPage::play_or_stop);
        connect(view, &FigureView::hovered, this, &Page::hovered);
        connect(view, &FigureView::could_not_export, this, [this](const QString& why) { session_.say(why); });
        connect(view, &FigureView::span_dragged, this, [this](std::size_t, double from_s, double to_s) {
            select(TimeSpan{rounded(std::max(0.0, from_s)), rounded(std::min(to_s, window_.whole_s))});
            editor_->ask_for_reason();
        });
    }
    connect(
        curve_, &TimeView::resized, this, [this] { show_samples(); }, Qt::QueuedConnection);
    connect(strip_, &FigureView::clicked_at, this, [this](std::size_t, double at_s, double) {
        const double half = window_.length_s() / 2.0;
        show_window(window_.at(at_s - half, at_s + half));
    });
    connect(curve_, &FigureView::clicked_at, this, [this] { select(std::nullopt); });

    auto* buttons = new QHBoxLayout;
    buttons->setSpacing(4);
    const auto add = [&](const QString& words, const QString& name, const QString& tip, auto act) {
        auto* button = new QPushButton(words);
        button->setAccessibleName(name);
        button->setToolTip(tip);
        connect(button, &QPushButton::clicked, this, act);
        buttons->addWidget(button);
        return button;
    };
    const auto about_middle = [this](double factor) {
        show_window(window_.zoomed((window_.from_s + window_.to_s) / 2.0, factor));
    };
    add(tr("Closer"), tr("Closer"), tr("Look at half as long (+)"), [about_middle] { about_middle(2.0); });
    add(tr("Wider"), tr("Wider"), tr("Look at twice as long (−)"), [about_middle] { about_middle(0.5); });
    add(tr("Whole"), tr("Whole"), tr("The whole recording"), [this] { show_window(window_.whole()); });
    add(tr("Leave out…"), tr("Leave a span out"), tr("Leave out the span that is selected, or type one (X)"),
        [this] { ask_for_reason(); });
    buttons->addStretch(1);
    speed_box_ = new QComboBox;
    speed_box_->setAccessibleName(tr("Playback speed"));
    speed_box_->setToolTip(tr("Faster playback raises every frequency: 10 Hz, ten times as fast, is heard as 100 Hz"));
    speed_box_->addItem(tr("as fast as it was"), 1.0);
    speed_box_->addItem(tr("4 times as fast"), 4.0);
    speed_box_->addItem(tr("10 times as fast"), 10.0);
    speed_box_->addItem(tr("20 times as fast"), 20.0);
    speed_box_->setCurrentIndex(2);
    buttons->addWidget(speed_box_);
    play_ = add(tr("Play"), tr("Play as sound"), tr("Play the span that is selected, else what is seen (Space)"),
                [this] { play_or_stop(); });
    play_->setMinimumWidth(play_->fontMetrics().horizontalAdvance(tr("Stop playing")) + 24);

    editor_ = new SpanEditor;
    editor_->hide();
    connect(editor_, &SpanEditor::put_away, this, [this] {
        select(std::nullopt);
        curve_->setFocus();
    });
    connect(editor_, &SpanEditor::leave_out_wanted, this, &WhenPage::leave_out);
    connect(editor_, &SpanEditor::event_wanted, this, &WhenPage::mark_event);
    connect(editor_, &SpanEditor::span_typed, this, [this] {
        const auto span = editor_->span();
        if (!span || span->from_s >= span->to_s) return;
        selection_ = span;
        strip_->set_selection(span);
        curve_->set_selection(span);
    });
    effect_ = told_label(tr("What the change did"));
    trouble_ = told_label(tr("Trouble with the recording"));
    heard_ = told_label(tr("What is heard"));

    auto* box = new QWidget;
    auto* column = new QVBoxLayout(box);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addWidget(strip_, 2);
    column->addLayout(buttons);
    column->addWidget(curve_, 3);
    for (QWidget* widget : std::initializer_list<QWidget*>{editor_, effect_, heard_, trouble_})
        column->addWidget(widget);
    return box;
}

QWidget* WhenPage::make_lists()
{
    spans_ = new SpanModel(this);
    table_ = new QTableView;
    table_->setModel(spans_);
    table_->setAccessibleName(tr("Left out, and events"));
    table_->setSelectionBehavior(QAbstractItemView::SelectRows);
    table_->setSelectionMode(QAbstractItemView::SingleSelection);
    table_->setTabKeyNavigation(false);
    table_->verticalHeader()->hide();
    table_->verticalHeader()->setDefaultSectionSize(table_->fontMetrics().height() + 8);
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    table_->horizontalHeader()->setSectionResizeMode(SpanModel::words, QHeaderView::Stretch);
    table_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    // Once the cell's editor is gone: the changed survey fills the table anew.
    connect(spans_, &SpanModel::changed, this,
            [this](const SpanModel::Span& span) { QTimer::singleShot(0, this, [this, span] { change_span(span); }); });
    connect(spans_, &SpanModel::not_a_number, this, [this](const QString& typed) {
        session_.say(tr("\"%1\" is no number of seconds; write 12.5 or 12,5").arg(typed));
    });
    table_->setMinimumWidth(30 * table_->fontMetrics().averageCharWidth());
    take_back_ = new QPushButton(tr("Take back"));
    take_back_->setToolTip(tr("Removes the row that is chosen: the span counts again, or is no event any more"));
    take_back_->setEnabled(false);
    connect(take_back_, &QPushButton::clicked, this, &WhenPage::take_back);
    const auto chosen = [this] {
        const QModelIndex row = table_->currentIndex();
        take_back_->setEnabled(row.isValid());
        if (!row.isValid()) return;
        const SpanModel::Span& span = spans_->span(row.row());
        const double length = span.to_s - span.from_s;
        if (span.from_s < window_.from_s || span.to_s > window_.to_s) look_at(span.from_s - length, span.to_s + length);
    };
    connect(table_->selectionModel(), &QItemSelectionModel::currentRowChanged, this, chosen);
    connect(spans_, &QAbstractItemModel::modelReset, this, [this] { take_back_->setEnabled(false); });

    list_ = new QListWidget;
    list_->setAccessibleName(tr("Findings"));
    list_->setWordWrap(true);
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    const auto open = [this](const QListWidgetItem* item) {
        const auto i = static_cast<std::size_t>(list_->row(item));
        if (i < findings_.size()) go_to(findings_[i]);
    };
    connect(list_, &QListWidget::itemClicked, this, open);
    connect(list_, &QListWidget::itemActivated, this, open);

    auto* box = new QWidget;
    auto* column = new QVBoxLayout(box);
    column->setContentsMargins(6, 0, 0, 0);
    const auto heading = [column](const QString& words) {
        auto* label = new QLabel(words);
        label->setWordWrap(true);
        column->addWidget(label);
    };
    heading(tr("Left out, and events"));
    column->addWidget(table_, 1);
    column->addWidget(take_back_, 0, Qt::AlignLeft);
    heading(tr("What was noticed"));
    column->addWidget(list_, 1);
    return box;
}

// ---- what is shown

const evaluators::Measured* WhenPage::measured() const
{
    if (!judgement_) return nullptr;
    for (const evaluators::Measured& each : judgement_->judged.measured)
        if (each.recording->file == shown_file_) return &each;
    return nullptr;
}

const Recording* WhenPage::listed() const
{
    const auto survey = session_.document().survey();
    return survey ? recording_of(*survey, shown_file_) : nullptr;
}

int WhenPage::channel() const { return std::max(1, channel_box_->currentData().toInt()); }

WeightingId WhenPage::weighting() const { return static_cast<WeightingId>(weighting_box_->currentData().toInt()); }

double WhenPage::to_si() const
{
    const Recording& recording = *measured()->recording;
    const auto unit = unit_named(recording.unit);
    return (unit ? unit->to_si : 1.0) * recording.scale.value_or(1.0);
}

double WhenPage::offset() const
{
    const evaluators::ChannelResult* result = measured()->pass ? measured()->channel(channel()) : nullptr;
    return result != nullptr ? result->offset : 0.0;
}

TimeMarks WhenPage::marks() const
{
    const Recording* recording = listed();
    return {.excluded = recording != nullptr ? recording->excluded : std::vector<ExcludedSpan>{},
            .findings = findings_};
}

void WhenPage::refresh()
{
    judgement_ = session_.judgement();
    if (judgement_ && (!judgement_->survey || judgement_->judged.measured.empty())) judgement_.reset();
    const std::string before = shown_file_;
    settle_on_verdict();
    fill_recordings();
    fill_channels(shown_file_ == before);
    fill_weightings();
    const evaluators::Measured* of = measured();
    if (of != nullptr && of->pass) {
        const io::RecordingInfo& info = of->pass->info;
        const QString path = QDir(session_.document().folder()).filePath(shown(shown_file_));
        samples_.open(plain(path), info, of->recording->resample_hz);
        const double whole = static_cast<double>(info.frames) / info.rate_hz, least = least_samples / info.rate_hz;
        if (shown_file_ != before || window_.whole_s != whole || window_.least_s != least) {
            window_ = TimeWindow{0.0, whole, whole, least};
            select(std::nullopt);
            player_.stop();
        }
    } else {
        samples_.close();
        player_.stop();
    }
    fill_lists();
    show_strip();
    show_samples();
    show_trouble();
    tell_effect();
}

// The chosen verdict. Where the choice leaves it open, the worst, and that one stays until another choice is made: it
// must not give way to another place's because of what was just left out of it.
void WhenPage::settle_on_verdict()
{
    if (told_ && (told_->path != session_.document().path() || session_.choice() != choice_seen_)) told_.reset();
    choice_seen_ = session_.choice();
    verdict_ = told_ ? verdict_of(*told_) : nullptr;
    if (verdict_ == nullptr) verdict_ = judgement_ ? session_.chosen_verdict() : nullptr;
}

void WhenPage::fill_recordings()
{
    recording_box_->clear();
    std::vector<const Recording*> first, rest;
    if (judgement_)
        for (const evaluators::Measured& each : judgement_->judged.measured) {
            const bool is_chosen =
                verdict_ != nullptr &&
                std::ranges::find(verdict_->recordings, each.recording->file) != verdict_->recordings.end();
            auto& list = is_chosen ? first : rest;
            if (std::ranges::find(list, each.recording->file, &Recording::file) == list.end())
                list.push_back(each.recording);
        }
    const auto add = [this](const Recording& recording) {
        const Space* space = judgement_->survey->space(recording.space);
        const QString where = shown(space != nullptr && !space->label.empty() ? space->label : recording.space);
        recording_box_->addItem(where.isEmpty() ? shown(recording.file)
                                                : QStringLiteral("%1: %2").arg(where, shown(recording.file)),
                                shown(recording.file));
    };
    for (const Recording* recording : first) add(*recording);
    if (!first.empty() && !rest.empty()) recording_box_->insertSeparator(recording_box_->count());
    for (const Recording* recording : rest) add(*recording);

    int index = recording_box_->findData(shown(session_.choice().recording));
    if (session_.choice().recording.empty() || index < 0) index = 0;
    recording_box_->setCurrentIndex(recording_box_->count() > 0 ? index : -1);
    shown_file_ = plain(recording_box_->currentData().toString());

    const Recording* recording = listed();
    const auto survey = session_.document().survey();
    const Condition* condition = recording != nullptr ? survey->condition(recording->condition) : nullptr;
    QStringList words;
    if (condition != nullptr) {
        words << shown(condition->title.empty() ? condition->id : condition->title);
        if (!condition->period.empty()) words << tr("stands for the %1").arg(shown(condition->period));
        if (condition->exposure_h) words << tr("%1 h a day").arg(number_words(*condition->exposure_h));
        if (condition->events) words << tr("%1 events").arg(number_words(*condition->events));
    }
    condition_->setText(words.join(QStringLiteral(", ")));
    condition_->setToolTip(condition_->text());
}

// The one chosen; else the one looked at before, that of the verdict's axis, the first.
void WhenPage::fill_channels(bool same_recording)
{
    const QVariant before = same_recording && told_ ? channel_box_->currentData() : QVariant();
    channel_box_->clear();
    const evaluators::Measured* of = measured();
    if (of == nullptr) return;
    for (const evaluators::Measured& each : judgement_->judged.measured) {
        if (each.recording->file != shown_file_) continue;
        for (const ChannelMapping& mapping : each.recording->channels)
            if (channel_box_->findData(mapping.channel) < 0)
                channel_box_->addItem(tr("channel %1, %2").arg(mapping.channel).arg(shown(name_of(mapping.axis))),
                                      mapping.channel);
    }
    int index = channel_box_->findData(session_.choice().channel);
    if (index < 0 && before.isValid()) index = channel_box_->findData(before);
    if (index < 0)
        if (verdict_ != nullptr)
            for (const ChannelMapping& mapping : of->recording->channels)
                if (name_of(mapping.axis) == verdict_->axis) index = channel_box_->findData(mapping.channel);
    channel_box_->setCurrentIndex(std::max(index, 0));
}

// The one of the chosen verdict, unless the person has chosen another that this channel has.
void WhenPage::fill_weightings()
{
    const QVariant before = weighting_box_->currentData();
    const QVariant of_channel = weighting_box_->property("channel");
    weighting_box_->clear();
    const evaluators::Measured* of = measured();
    if (of == nullptr || !of->pass) return;
    std::optional<WeightingId> preferred;
    for (const evaluators::LaneResult& lane : of->pass->lanes) {
        if (lane.lane.channel != channel() || lane.refused) continue;
        weighting_box_->addItem(weighting_words(lane.lane.weighting), static_cast<int>(lane.lane.weighting));
        if (verdict_ == nullptr || lane.lane.weighting == WeightingId::none) continue;
        for (const VerdictTerm& term : verdict_->terms)
            if (term.axis == name_of(lane.lane.axis) && term.weighting == name_of(lane.lane.weighting))
                preferred = lane.lane.weighting;
        if (!preferred) preferred = lane.lane.weighting;
    }
    const QVariant now = shown(shown_file_) + QStringLiteral(" %1").arg(channel());
    int index = of_channel == now ? weighting_box_->findData(before) : -1;
    if (index < 0 && preferred) index = weighting_box_->findData(static_cast<int>(*preferred));
    weighting_box_->setCurrentIndex(std::max(index, 0));
    weighting_box_->setProperty("channel", now);
}

void WhenPage::fill_lists()
{
    const Recording* recording = listed();
    spans_->show(recording != nullptr ? recording->excluded : std::vector<ExcludedSpan>{},
                 recording != nullptr ? recording->events : std::vector<EventSpan>{});
    findings_.clear();
    list_->clear();
    if (!judgement_) return;
    for (const Finding& finding : judgement_->assessment().findings)
        if (finding.recording == shown_file_) findings_.push_back(finding);
    std::ranges::stable_sort(findings_, {}, [](const Finding& f) { return f.from_s.value_or(-1.0); });
    for (const Finding& finding : findings_) {
        QString words = severity_words(finding.severity);
        if (finding.from_s) words += tr(", at %1 s").arg(seconds_words(*finding.from_s));
        if (finding.channel) words += tr(", channel %1").arg(*finding.channel);
        list_->addItem(words + QStringLiteral(": ") + shown(finding.message));
    }
    if (findings_.empty()) {
        list_->addItem(tr("nothing about this recording"));
        list_->item(0)->setFlags(Qt::NoItemFlags);
    }
}

void WhenPage::show_strip()
{
    const evaluators::Measured* of = measured();
    const evaluators::LaneResult* lane =
        of != nullptr && of->pass ? lane_of(*of->pass, channel(), weighting()) : nullptr;
    StripOf strip_of_now{judgement_, session_.document().survey(), lane, verdict_};
    if (strip_of_now == strip_of_) return;
    strip_of_ = std::move(strip_of_now);
    if (lane == nullptr) {
        strip_->clear();
        return;
    }
    const bool has_bands =
        verdict_ != nullptr && std::ranges::find(verdict_->recordings, shown_file_) != verdict_->recordings.end() &&
        is_comparable(*verdict_, lane->lane, si_unit_of(output_of(lane->lane.weighting, of->motion), of->rotates));
    auto strip = std::make_shared<figures::TimeStripInput>(
        strip_of({.measured = *of, .lane = *lane, .marks = marks(), .bands = has_bands ? &verdict_->bands : nullptr}));
    strip_->show_figure(
        [strip](double width_px, double height_px) {
            strip->heading.width_px = width_px;
            strip->heading.height_px = height_px;
            return figures::time_strip_figure(*strip);
        },
        tr("strip"));
    strip_->set_window(TimeSpan{window_.from_s, window_.to_s});
    const Recording* recording = listed();
    const std::vector<EventSpan> events = recording != nullptr ? recording->events : std::vector<EventSpan>{};
    strip_->set_events(events);
    curve_->set_events(events);
    const std::vector<ExcludedSpan> left_out = recording != nullptr ? recording->excluded : std::vector<ExcludedSpan>{};
    curve_->set_left_out(left_out);
    strip_->set_left_out(has_bands ? std::vector<ExcludedSpan>{} : left_out); // else its body hides the hatching
}

void WhenPage::show_samples()
{
    const evaluators::Measured* of = measured();
    if (of == nullptr || !of->pass) {
        curve_->clear();
        return;
    }
    const double rate = of->pass->info.rate_hz;
    const auto from = static_cast<std::int64_t>(std::floor(window_.from_s * rate)),
               to = static_cast<std::int64_t>(std::ceil(window_.to_s * rate)) + 1;
    auto envelope = samples_.envelope(channel(), from, to, curve_->columns());
    SamplesOf now{.survey = session_.document().survey(),
                  .file = samples_.number(),
                  .channel = channel(),
                  .window = window_,
                  .to_si = to_si(),
                  .offset = offset(),
                  .findings = findings_.size(),
                  .first = envelope ? envelope->first : 0,
                  .step = envelope ? envelope->step : 0,
                  .count = envelope ? envelope->least.size() : 0};
    if (now == samples_of_ && !curve_->is_empty()) return;
    samples_of_ = std::move(now);
    std::vector<QPointF> dots;
    if (envelope && envelope->step == 1 && envelope->least.size() <= most_dots)
        for (std::size_t i = 0; i < envelope->least.size(); ++i)
            if (std::isfinite(envelope->least[i]))
                dots.emplace_back(static_cast<double>(envelope->first + static_cast<std::int64_t>(i)) / rate,
                                  static_cast<double>(envelope->least[i]) * to_si() - offset());
    curve_->set_dots(std::move(dots));
    auto figure = std::make_shared<SamplesRequest>(SamplesRequest{.measured = *of,
                                                                  .channel = channel(),
                                                                  .marks = marks(),
                                                                  .window = window_,
                                                                  .to_si = to_si(),
                                                                  .offset = offset(),
                                                                  .envelope = std::move(envelope)});
    curve_->show_figure([figure, judgement = judgement_](
                            double width_px, double height_px) { return samples_figure(*figure, width_px, height_px); },
                        tr("samples"));
}

void WhenPage::show_window(const TimeWindow& window)
{
    if (window == window_ || measured() == nullptr) return;
    window_ = window;
    strip_->set_window(TimeSpan{window_.from_s, window_.to_s});
    show_samples();
}

void WhenPage::look_at(double from_s, double to_s) { show_window(window_.at(from_s, to_s)); }

void WhenPage::show_trouble()
{
    const evaluators::Measured* of = measured();
    if (of != nullptr && !of->pass)
        say(trouble_, shown(of->unreadable));
    else if (!samples_.problem().isEmpty())
        say(trouble_, samples_.problem());
    else if (of != nullptr && !samples_.is_complete() && samples_.fraction() > 0.0)
        say(trouble_, tr("Reading the samples: %1 %. Until then the range of each second is shown.")
                          .arg(static_cast<int>(samples_.fraction() * 100.0)));
    else
        say(trouble_, {});
}

const Verdict* WhenPage::verdict_of(const Told& told) const
{
    if (!judgement_) return nullptr;
    const auto& verdicts = judgement_->assessment().verdicts;
    const auto found = std::ranges::find_if(verdicts, [&](const Verdict& v) {
        return v.space == told.space && v.position == told.position && v.condition == told.condition &&
               v.criterion == told.criterion && v.person == told.person;
    });
    return found == verdicts.end() ? nullptr : &*found;
}

// The verdict before the last change of the survey and after it.
void WhenPage::tell_effect()
{
    if (verdict_ == nullptr) {
        told_.reset();
        say(effect_, {});
        return;
    }
    const QString value = verdict_->judged
                              ? QStringLiteral("%1 (%2)").arg(value_words(*verdict_), band_words(*verdict_))
                              : value_words(*verdict_);
    if (told_ && told_->survey != judgement_->survey) {
        const Space* space = judgement_->survey->space(verdict_->space);
        const QString of = QStringLiteral("%1, %2").arg(shown(space != nullptr ? space->label : verdict_->person),
                                                        shown(verdict_->title));
        say(effect_, value == told_->value ? tr("%1 stays as it was: %2.").arg(of, value)
                                           : tr("%1: %2 before, now %3.").arg(of, told_->value, value));
    } else if (!told_) {
        say(effect_, {});
    }
    told_ = Told{judgement_->survey,  session_.document().path(), verdict_->space,  verdict_->position,
                 verdict_->condition, verdict_->criterion,        verdict_->person, value};
}

// ---- what is done

void WhenPage::select(std::optional<TimeSpan> span)
{
    selection_ = span;
    strip_->set_selection(span);
    curve_->set_selection(span);
    if (span) editor_->show_span(*span);
    editor_->setVisible(span.has_value());
}

void WhenPage::ask_for_reason()
{
    if (measured() == nullptr) return;
    if (!selection_) select(TimeSpan{rounded(window_.from_s), rounded(window_.to_s)});
    editor_->ask_for_reason();
}

void WhenPage::leave_out()
{
    if (!editor_->isVisible()) return; // the key of an answer that was given
    const auto span = editor_->span();
    if (!span) {
        session_.say(tr("A span needs two numbers of seconds; write 12.5 or 12,5"));
        return;
    }
    const SurveyDocument& document = session_.document();
    if (session_.change(tr("leave out %1 s to %2 s").arg(seconds_words(span->from_s), seconds_words(span->to_s)),
                        io::with_exclusion(document.text(), plain(document.path()), shown_file_,
                                           {span->from_s, span->to_s, plain(editor_->reason())}))) {
        select(std::nullopt);
        curve_->setFocus();
    }
}

void WhenPage::mark_event()
{
    const auto span = editor_->span();
    const auto survey = session_.document().survey();
    if (!span || !survey) {
        session_.say(tr("A span needs two numbers of seconds; write 12.5 or 12,5"));
        return;
    }
    if (session_.change(tr("event at %1 s").arg(seconds_words(span->from_s)),
                        with_event({session_.document().text(), *survey}, shown_file_,
                                   {span->from_s, span->to_s, plain(editor_->reason())}))) {
        select(std::nullopt);
        curve_->setFocus();
    }
}

void WhenPage::change_span(const SpanModel::Span& span)
{
    const auto survey = session_.document().survey();
    if (!survey) return;
    const SurveyText text{session_.document().text(), *survey};
    session_.change(tr("change the span at %1 s").arg(seconds_words(span.from_s)),
                    span.is_event
                        ? with_changed_event(text, shown_file_, span.index, {span.from_s, span.to_s, span.words})
                        : with_changed_exclusion(text, shown_file_, span.index, {span.from_s, span.to_s, span.words}));
}

void WhenPage::take_back()
{
    const QModelIndex row = table_->currentIndex();
    const auto survey = session_.document().survey();
    if (!row.isValid() || !survey) return;
    const SpanModel::Span span = spans_->span(row.row());
    const SurveyDocument& document = session_.document();
    session_.change(tr("take back the span at %1 s").arg(seconds_words(span.from_s)),
                    span.is_event
                        ? without_event({document.text(), *survey}, shown_file_, span.index)
                        : io::without_exclusion(document.text(), plain(document.path()), shown_file_, span.index));
}

void WhenPage::play_or_stop()
{
    if (player_.is_playing()) {
        player_.stop();
        return;
    }
    if (measured() == nullptr) return;
    const TimeSpan span = selection_.value_or(TimeSpan{window_.from_s, window_.to_s});
    player_.play({.path = samples_.path(),
                  .resample_hz = measured()->recording->resample_hz,
                  .channel = channel(),
                  .to_si = to_si(),
                  .from_s = span.from_s,
                  .to_s = span.to_s,
                  .factor = speed_box_->currentData().toDouble()});
}

void WhenPage::go_to(const Finding& finding)
{
    if (!finding.from_s) return;
    const double to = std::max(*finding.from_s, finding.to_s.value_or(*finding.from_s));
    look_at(*finding.from_s - around_finding_s, to + around_finding_s);
}

} // namespace becalm::desktop

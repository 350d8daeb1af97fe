#include "ui/desktop/why_page.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QSplitter>
#include <QVBoxLayout>
#include <algorithm>

#include "ui/desktop/words.h"
#include "ui/figures/spectrum_units.h"

namespace becalm::desktop {
namespace {

const Explanation* explanation_of(const ExplanationReport& report, const Verdict& verdict)
{
    for (const Explanation& explanation : report.explanations) {
        const Verdict& other = explanation.verdict;
        if (other.space == verdict.space && other.position == verdict.position &&
            other.condition == verdict.condition && other.criterion == verdict.criterion &&
            other.person == verdict.person && other.axis == verdict.axis)
            return &explanation;
    }
    return nullptr;
}

// The worst verdict that is of a space: days of persons have none.
const Verdict* worst_of_a_space(const Assessment& assessment)
{
    const Verdict* worst = nullptr;
    const auto rank = [](const Verdict& verdict) { return verdict.exceeded ? 1000 : verdict.band_index.value_or(-1); };
    for (const Verdict& verdict : assessment.verdicts)
        if (verdict.judged && !verdict.space.empty() && (worst == nullptr || rank(verdict) > rank(*worst)))
            worst = &verdict;
    return worst;
}

// Of a spectrum until its controls have asked for something else.
template <class Input>
Input sized(Input input, double width_px, double height_px)
{
    input.heading.width_px = width_px;
    input.heading.height_px = height_px;
    return input;
}

} // namespace

WhyPage::WhyPage(Session& session, QWidget* parent) : Page(session, parent)
{
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 4, 0, 0);
    auto* head = new QHBoxLayout;
    words_ = new QLabel;
    words_->setWordWrap(true);
    words_->setAccessibleName(tr("State of the explanation"));
    again_ = new QPushButton(tr("E&xplain"));
    head->addWidget(words_, 1);
    head->addWidget(again_);
    column->addLayout(head);
    body_ = new QWidget;
    auto* body = new QVBoxLayout(body_);
    body->setContentsMargins(0, 0, 0, 0);
    controls_ = new SpectrumControls;
    body->addWidget(controls_);
    auto* halves = new QSplitter(Qt::Vertical);
    halves->addWidget(make_figures());
    halves->addWidget(make_tables());
    halves->setStretchFactor(0, 5);
    halves->setStretchFactor(1, 3);
    halves->setChildrenCollapsible(false);
    body->addWidget(halves, 1);
    column->addWidget(body_, 1);
    column->addStretch(0);

    connect(again_, &QPushButton::clicked, this, [this] {
        stopped_ = false;
        ask_for_causes();
    });
    connect(controls_, &SpectrumControls::changed, this, &WhyPage::show_figures);
    connect(&session_, &Session::busy_changed, this, [this] {
        if (asked_for_ == nullptr || session_.is_explaining() || session_.causes()) return;
        asked_for_.reset();
        if (session_.is_judging()) return; // a changed survey: its causes come after its verdicts
        stopped_ = true;
        update_soon();
    });
}

QWidget* WhyPage::make_figures()
{
    spectrum_view_ = new SourceSpectrumView;
    spectrum_view_->setToolTip(tr("Draw a source's line to where it belongs; its harmonics follow"));
    bands_view_ = new FigureView;
    time_view_ = new FigureView;
    ladder_view_ = new FigureView;
    second_ = new QTabWidget;
    second_->setAccessibleName(tr("Second figure"));
    second_->setDocumentMode(true);
    second_->addTab(bands_view_, tr("One-third octa&ves"));
    second_->addTab(time_view_, tr("Over ti&me"));
    second_->addTab(ladder_view_, tr("What ca&rries it"));
    auto* beside = new QSplitter(Qt::Horizontal);
    beside->addWidget(spectrum_view_);
    beside->addWidget(second_);
    beside->setStretchFactor(0, 3);
    beside->setStretchFactor(1, 2);
    beside->setChildrenCollapsible(false);
    for (FigureView* view : {static_cast<FigureView*>(spectrum_view_), bands_view_, time_view_, ladder_view_}) {
        connect(view, &FigureView::hovered, this, &WhyPage::hovered);
        connect(view, &FigureView::could_not_export, &session_, &Session::say, Qt::UniqueConnection);
    }
    connect(spectrum_view_, &SourceSpectrumView::line_taken, this, &WhyPage::take_line);
    connect(spectrum_view_, &SourceSpectrumView::line_drawn, this, [this](double from_hz, double to_hz) {
        trial_ = taken_trial_;
        (void)trial_.draw(taken_source_, from_hz, to_hz);
        show_tried();
    });
    connect(spectrum_view_, &SourceSpectrumView::line_left, this, &WhyPage::show_figures);
    return beside;
}

QWidget* WhyPage::make_tables()
{
    auto* dominants = new QWidget;
    auto* column = new QVBoxLayout(dominants);
    column->setContentsMargins(0, 4, 0, 0);
    components_ = new ComponentsModel(this);
    components_view_ = new QTableView;
    components_view_->setModel(components_);
    components_view_->setAccessibleName(tr("Frequencies that dominate"));
    components_view_->setSelectionBehavior(QAbstractItemView::SelectRows);
    components_view_->setSelectionMode(QAbstractItemView::SingleSelection);
    components_view_->setTabKeyNavigation(false);
    components_view_->setWordWrap(false);
    components_view_->verticalHeader()->hide();
    components_view_->horizontalHeader()->setMinimumSectionSize(40);
    column->addWidget(components_view_, 1);
    shares_ = new QLabel;
    shares_->setWordWrap(true);
    shares_->setAccessibleName(tr("Shares of the energy, and notes"));
    column->addWidget(shares_);
    sources_ = new SourcesPanel;
    what_if_ = new WhatIfPanel;
    tables_ = new QTabWidget;
    tables_->setAccessibleName(tr("Tables of the causes"));
    tables_->setDocumentMode(true);
    tables_->addTab(dominants, tr("What &dominates"));
    tables_->addTab(sources_, tr("S&ources"));
    tables_->addTab(what_if_, tr("What if, and cu&res"));

    connect(components_view_->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
            [this](const QModelIndex& now) { choose_component(now.row()); });
    connect(sources_, &SourcesPanel::speed_given, this, [this](const QString& source, double value) {
        (void)trial_.set_speed(plain(source), value);
        show_tried();
        show_figures();
    });
    connect(sources_, &SourcesPanel::not_understood, &session_, &Session::say);
    connect(sources_, &SourcesPanel::put_back, this, [this] {
        trial_.put_back();
        show_tried();
        show_figures();
    });
    connect(sources_, &SourcesPanel::write, this, &WhyPage::write_speeds);
    connect(what_if_, &WhatIfPanel::not_understood, &session_, &Session::say);
    connect(what_if_, &WhatIfPanel::changes_changed, this, &WhyPage::ask_for_causes);
    return tables_;
}

void WhyPage::say_in_page(const QString& words, bool can_ask)
{
    words_->setText(words);
    words_->setVisible(!words.isEmpty());
    again_->setVisible(can_ask);
}

void WhyPage::refresh()
{
    body_->setVisible(explanation_ != nullptr);
    const auto survey = session_.document().survey();
    if (!session_.document().is_open()) return say_in_page(tr("Open a survey first."));
    if (!survey) return say_in_page(tr("The survey file has faults; mend them, then its causes can be looked for."));
    const auto judgement = session_.judgement();
    if (!judgement || judgement->survey != survey)
        return say_in_page(session_.is_judging() ? tr("The survey is being judged; its causes come after.")
                                                 : tr("The survey has not been judged yet: judge it first (F5)."));
    if (!have_a_space()) {
        explanation_ = nullptr;
        body_->hide();
        return;
    }
    const auto causes = session_.causes();
    if (causes && causes->survey == survey) return show_causes();
    if (stopped_) return say_in_page(tr("Stopped before the causes were known."), true);
    if (shown_ && (shown_->space != session_.choice().space || explanation_ == nullptr)) {
        explanation_ = nullptr;
        body_->hide();
    }
    if (asked_for_ != survey || asked_space_ != session_.choice().space) ask_for_causes();
}

bool WhyPage::have_a_space()
{
    const auto judgement = session_.judgement();
    if (!judgement->problems.empty()) {
        QStringList all;
        for (const Problem& problem : judgement->problems) all << problem_words(problem);
        say_in_page(all.join(QChar(u'\n')));
        return false;
    }
    const Verdict* verdict = session_.chosen_verdict();
    if (verdict != nullptr && verdict->space.empty() && !session_.choice().person.empty()) {
        say_in_page(
            tr("The day of %1 is made of tasks in several spaces; choose one of the spaces to see why it shakes.")
                .arg(shown(verdict->person)));
        return false;
    }
    if (session_.choice().space.empty()) {
        if (verdict == nullptr || verdict->space.empty() || !verdict->judged)
            verdict = worst_of_a_space(judgement->assessment());
        if (verdict == nullptr) {
            say_in_page(tr("Nothing could be judged, so there is nothing to explain; the page How much says why."));
            return false;
        }
        session_.choose_verdict(*verdict); // comes back here if it changes anything
        verdict = session_.chosen_verdict();
    }
    if (verdict == nullptr) {
        say_in_page(tr("Nothing is judged under this choice; choose another criterion, condition or position above."));
        return false;
    }
    if (!verdict->judged) {
        say_in_page(tr("This cannot be explained, because it could not be judged: %1").arg(shown(verdict->why_not)));
        return false;
    }
    return true;
}

void WhyPage::ask_for_causes()
{
    asked_for_ = session_.document().survey();
    asked_space_ = session_.choice().space;
    stopped_ = false;
    say_in_page(explanation_ != nullptr ? tr("Being worked out anew; what is seen is of before.")
                                        : tr("The causes are being worked out."));
    session_.explain(what_if_->changes());
}

void WhyPage::show_causes()
{
    const auto causes = session_.causes();
    asked_for_.reset();
    stopped_ = false;
    if (!causes->problems.empty()) {
        QStringList all;
        for (const Problem& problem : causes->problems) all << problem_words(problem);
        say_in_page(all.join(QChar(u'\n')), true);
        return;
    }
    const Explanation* found = explanation_of(causes->report, *session_.chosen_verdict());
    if (found == nullptr) {
        explanation_ = nullptr;
        body_->hide();
        return say_in_page(tr("No explanation was made of this verdict; judge again (F5)."), true);
    }
    if (!found->why_not.empty()) {
        shown_ = causes;
        explanation_ = nullptr;
        body_->hide();
        return say_in_page(tr("This cannot be explained, because %1.").arg(shown(found->why_not)));
    }
    say_in_page({});
    if (found == explanation_ && trial_of_ == causes->survey) return;
    const bool other_subject =
        explanation_ == nullptr || !shown_ || explanation_of(shown_->report, found->verdict) != explanation_;
    shown_ = causes;
    explanation_ = found;
    if (trial_of_ != causes->survey || trial_.condition() != found->condition) {
        trial_ = SourceTrial(*causes->survey, found->condition);
        trial_of_ = causes->survey;
        what_if_->offer(causes->survey->sources);
    }
    body_->show();
    if (other_subject) spectrum_view_->mark(std::nullopt);
    show_explanation();
    if (other_subject && !found->components.empty()) controls_->choose_axis(found->components.front().axis);
}

void WhyPage::show_explanation()
{
    std::vector<std::string> axes;
    for (const ExplainedSpectrum& each : explanation_->spectra)
        if (std::ranges::find(axes, each.axis) == axes.end()) axes.push_back(each.axis);
    controls_->offer(axes, explanation_->spectra.empty() ? Motion::acceleration
                                                         : figures::motion_of(explanation_->spectra.front()));
    components_->show(shown_, explanation_);
    components_view_->resizeColumnsToContents();
    for (const int column : {ComponentsModel::made_by, ComponentsModel::because})
        components_view_->setColumnWidth(column, std::min(components_view_->columnWidth(column), 300));
    QString words = shares_in_words(*explanation_);
    for (const std::string& note : explanation_->notes) words += QChar(u'\n') + shown(note);
    shares_->setText(words);
    what_if_->show_explanation(*explanation_);
    sources_->show_trial(trial_);
    show_figures();
}

const ExplainedSpectrum* WhyPage::spectrum() const
{
    if (explanation_ == nullptr) return nullptr;
    const std::string axis = controls_->axis();
    const auto found = std::ranges::find(explanation_->spectra, axis, &ExplainedSpectrum::axis);
    return found == explanation_->spectra.end() ? nullptr : &*found;
}

ExplainedSpectrum WhyPage::with_tried_lines(ExplainedSpectrum spectrum) const
{
    if (trial_.is_changed())
        spectrum.lines = trial_.lines(static_cast<double>(spectrum.density.size()) * spectrum.resolution_hz);
    return spectrum;
}

void WhyPage::draw_spectrum()
{
    const ExplainedSpectrum* of = spectrum();
    if (of == nullptr) return spectrum_view_->clear();
    auto input = figures::weighted_spectrum(*explanation_, with_tried_lines(*of));
    if (auto shape = figures::weighting_shape(*of)) input.shapes.push_back(std::move(*shape));
    if (trial_.is_changed()) input.heading.notes.emplace_back("lines lie where speeds that are tried would put them");
    input = figures::in_units(std::move(input), *of, controls_->units());
    input.logarithmic_frequency = controls_->logarithmic_frequency();
    spectrum_view_->show_figure(
        [input](double width_px, double height_px) {
            return figures::spectrum_figure(sized(input, width_px, height_px));
        },
        QStringLiteral("spectrum"));
}

void WhyPage::show_figures()
{
    draw_spectrum();
    const ExplainedSpectrum* of = spectrum();
    if (of == nullptr) {
        for (FigureView* view : {bands_view_, time_view_, ladder_view_}) view->clear();
        return;
    }
    const ExplainedSpectrum tried = with_tried_lines(*of);
    auto bands = figures::weighted_bands(*explanation_, tried);
    const auto criterion = session_.library().criteria.find(explanation_->verdict.criterion);
    if (criterion != session_.library().criteria.end())
        if (auto curve = figures::curve_at_limit(criterion->second, *explanation_, *of))
            bands.limits.push_back(std::move(*curve));
    bands = figures::in_units(std::move(bands), *of, controls_->units());
    bands_view_->show_figure(
        [bands](double width_px, double height_px) {
            return figures::third_octave_figure(sized(bands, width_px, height_px));
        },
        QStringLiteral("bands"));
    const bool over_time = of->rows.size() >= 2;
    second_->setTabEnabled(second_->indexOf(time_view_), over_time);
    second_->setTabToolTip(
        second_->indexOf(time_view_),
        over_time ? QString() : tr("Rows of time are kept of one recording of 2 rows at least; several do not join"));
    if (over_time) {
        auto gram = figures::in_units(figures::weighted_spectrogram(*explanation_, tried), *of, controls_->units());
        gram.logarithmic_frequency = controls_->logarithmic_frequency();
        auto kept = std::make_shared<figures::SpectrogramInput>(std::move(gram)); // not copied with each painting
        time_view_->show_figure(
            [kept](double width_px, double height_px) {
                kept->heading.width_px = width_px;
                kept->heading.height_px = height_px;
                return figures::spectrogram_figure(*kept);
            },
            QStringLiteral("over-time"));
    } else {
        time_view_->clear();
    }
    ladder_view_->show_figure(
        [ladder = figures::what_carries(*explanation_)](double width_px, double height_px) {
            return figures::ladder_figure(sized(ladder, width_px, height_px));
        },
        QStringLiteral("ladder"));
}

void WhyPage::choose_component(int row)
{
    const ExplainedComponent* component = components_->component(row);
    if (component == nullptr) return;
    controls_->choose_axis(component->axis);
    spectrum_view_->mark(component->hz);
    if (!component->matches.empty()) sources_->show_source(component->matches.front().source);
}

void WhyPage::take_line(std::size_t marker)
{
    const ExplainedSpectrum* of = spectrum();
    taken_source_.clear();
    if (of == nullptr) return;
    const auto lines = figures::lines_shown(with_tried_lines(*of), *explanation_);
    if (marker >= lines.size()) return;
    taken_source_ = lines[marker].source;
    taken_trial_ = trial_;
    tables_->setCurrentWidget(sources_);
    sources_->show_source(taken_source_);
}

void WhyPage::show_tried()
{
    sources_->show_trial(trial_);
    draw_spectrum();
}

void WhyPage::write_speeds()
{
    SurveyDocument& document = session_.document();
    if (document.survey() != trial_of_) {
        session_.say(tr("The survey has changed since these speeds were tried; look at them again, then write them."));
        return;
    }
    (void)session_.change(tr("write the sources' speeds"), trial_.written(document.text(), plain(document.path())));
}

} // namespace becalm::desktop

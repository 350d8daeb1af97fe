#include "ui/desktop/plan_panel.h"

#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QVBoxLayout>
#include <algorithm>
#include <array>

#include "src/io/survey_file.h"
#include "src/io/toml_text.h"
#include "ui/desktop/spaces_by_group.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

// "Deck 4.svg" -> "deck-4", with a number where the survey has such a plan.
std::string id_for(const QString& file, const Survey& survey)
{
    QString id;
    for (const QChar letter : QFileInfo(file).completeBaseName().toLower())
        id += letter.isLetterOrNumber() ? letter : QChar(u'-');
    if (id.isEmpty()) id = QStringLiteral("plan");
    std::string unique = plain(id);
    for (int number = 2; survey.plan(unique) != nullptr; ++number)
        unique = plain(QStringLiteral("%1-%2").arg(id).arg(number));
    return unique;
}

QString title_of(const Plan& plan) { return shown(plan.title.empty() ? plan.id : plan.title); }

} // namespace

PlanPanel::PlanPanel(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), reader_(*this, [this](Read read) {
          reading_ = false;
          const bool another = read.of.plan != loaded_.plan || picture_ == nullptr;
          loaded_ = std::move(read.of);
          picture_ = std::move(read.picture);
          view_->show_picture(picture_, another);
          show_words();
      })
{
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    auto* line = new QHBoxLayout;
    plans_ = new QComboBox;
    plans_->setAccessibleName(tr("Plan that is seen"));
    plans_->setToolTip(plans_->accessibleName());
    page_ = new QSpinBox;
    page_->setAccessibleName(tr("Page of the plan's PDF"));
    page_->setToolTip(page_->accessibleName());
    page_->setPrefix(tr("page "));
    page_->setKeyboardTracking(false);
    add_ = new QPushButton(tr("&Add a plan picture…"));
    add_->setToolTip(tr("A picture (PNG, JPEG), a drawing (SVG) or a page of a PDF; it stays where it is"));
    line->addWidget(plans_, 1);
    line->addWidget(page_);
    line->addWidget(add_);
    column->addLayout(line);
    view_ = new PlanView;
    column->addWidget(view_, 1);
    words_ = new QLabel;
    words_->setAccessibleName(tr("About the plan"));
    words_->setWordWrap(true);
    words_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    column->addWidget(words_);
    auto* below = new QHBoxLayout;
    place_ = new QPushButton(tr("&Place it on the plan"));
    place_->setToolTip(tr("Puts the chosen space in the middle of the plan; drag it to its place, or move it with "
                          "Alt and the arrows"));
    place_->setAccessibleName(tr("Place the chosen space on the plan"));
    take_off_ = new QPushButton(tr("&Take it off"));
    take_off_->setAccessibleName(tr("Take the chosen space off the plan"));
    take_off_->setToolTip(tr("Takes the chosen space off its plan"));
    below->addWidget(place_);
    below->addWidget(take_off_);
    below->addStretch(1);
    column->addLayout(below);

    connect(plans_, &QComboBox::activated, this, [this] {
        plan_id_ = plain(plans_->currentData().toString());
        refresh();
    });
    connect(page_, &QSpinBox::valueChanged, this, [this](int page) {
        const auto survey = session_.document().survey();
        if (filling_ || !survey || plan() == nullptr) return;
        const auto number = static_cast<std::size_t>(plan() - survey->plans.data());
        session_.change(tr("page of a plan"),
                        io::with_value(session_.document().text(), plain(session_.document().path()), "plan", number,
                                       "page", std::to_string(page)));
    });
    connect(add_, &QPushButton::clicked, this, [this] {
        const QString path = QFileDialog::getOpenFileName(this, tr("Plan picture"), session_.document().folder(),
                                                          tr("Plans (*.png *.jpg *.jpeg *.svg *.pdf)"));
        if (!path.isEmpty()) add_plan(path);
    });
    connect(place_, &QPushButton::clicked, this, [this] {
        if (place(session_.choice().space, {0.5, 0.5})) view_->setFocus();
    });
    connect(take_off_, &QPushButton::clicked, this, [this] { take_off(session_.choice().space); });
    connect(view_, &PlanView::space_clicked, this, &PlanPanel::choose);
    connect(view_, &PlanView::space_activated, this, [this](const std::string& space) {
        choose(space);
        emit amount_wanted();
    });
    connect(view_, &PlanView::space_placed, this, &PlanPanel::place);
    connect(view_, &PlanView::hovered, this, &PlanPanel::hovered);
}

const Plan* PlanPanel::plan() const
{
    const auto survey = session_.document().survey();
    return survey ? survey->plan(plan_id_) : nullptr;
}

std::optional<std::size_t> PlanPanel::number_of(const std::string& space) const
{
    const auto survey = session_.document().survey();
    if (!survey) return std::nullopt;
    const auto found = std::ranges::find(survey->spaces, space, &Space::id);
    if (found == survey->spaces.end()) return std::nullopt;
    return static_cast<std::size_t>(found - survey->spaces.begin());
}

void PlanPanel::refresh()
{
    fill_plans();
    load();
    show_marks();
    show_words();
}

void PlanPanel::fill_plans()
{
    filling_ = true;
    const auto survey = session_.document().survey();
    plans_->clear();
    if (survey) {
        // A space that was chosen elsewhere brings up its plan; one's own choice of a plan stays otherwise.
        const std::string& chosen = session_.choice().space;
        if (chosen != seen_space_) {
            seen_space_ = chosen;
            if (const Space* space = survey->space(chosen); space != nullptr && !space->plan.empty())
                plan_id_ = space->plan;
        }
        for (const Plan& plan : survey->plans) plans_->addItem(title_of(plan), shown(plan.id));
        if (survey->plan(plan_id_) == nullptr) plan_id_ = survey->plans.empty() ? std::string() : survey->plans[0].id;
        plans_->setCurrentIndex(plans_->findData(shown(plan_id_)));
    }
    plans_->setEnabled(plans_->count() > 1);
    plans_->setVisible(plans_->count() > 0);
    filling_ = false;
}

void PlanPanel::load()
{
    const Plan* seen = plan();
    if (seen == nullptr) {
        reader_.cancel();
        reading_ = false;
        loaded_ = {};
        picture_.reset();
        view_->show_picture(nullptr, true);
        return;
    }
    const QString path = QDir(session_.document().folder()).absoluteFilePath(shown(seen->file));
    const Loaded wanted{path, seen->page, QFileInfo(path).lastModified(), seen->id};
    if (wanted == loaded_ && (picture_ || reading_)) return;
    if (wanted.plan != loaded_.plan) {
        picture_.reset();
        view_->show_picture(nullptr, true);
    }
    loaded_ = wanted;
    reading_ = true;
    reader_.request([wanted](const std::stop_token&) {
        return Read{wanted, std::make_shared<const PlanPicture>(read_plan_picture(wanted.path, wanted.page))};
    });
}

void PlanPanel::show_marks()
{
    const auto survey = session_.document().survey();
    std::vector<PlanMark> marks;
    if (survey && plan() != nullptr) {
        static const Assessment nothing;
        const auto judgement = session_.judgement();
        for (const SpaceGroup& group : spaces_by_group(*survey, judgement ? judgement->assessment() : nothing))
            for (const SpaceRow& row : group.rows) {
                if (row.space->plan != plan_id_ || !row.space->place) continue;
                PlanMark mark{.space = row.space->id,
                              .words = space_words(*survey, row.space->id),
                              .band = row.worst() != nullptr ? band_words(*row.worst()) : tr("no verdict"),
                              .place = *row.space->place,
                              .verdict = band_place(row.worst())};
                mark.readout = mark.words + QStringLiteral(": ") + mark.band;
                if (row.worst() != nullptr)
                    mark.readout +=
                        QStringLiteral(", ") + value_words(*row.worst()) +
                        (row.worst()->judged ? QStringLiteral("; ") + distance_words(*row.worst()) : QString());
                marks.push_back(std::move(mark));
            }
    }
    view_->set_placing(plan() != nullptr);
    view_->show_marks(std::move(marks), session_.choice().space);
}

void PlanPanel::show_words()
{
    const auto survey = session_.document().survey();
    const Plan* seen = plan();
    const std::string& chosen = session_.choice().space;
    const Space* space = survey ? survey->space(chosen) : nullptr;
    place_->setVisible(seen != nullptr);
    take_off_->setVisible(seen != nullptr);
    place_->setEnabled(space != nullptr && (space->plan != plan_id_ || !space->place));
    take_off_->setEnabled(space != nullptr && space->place);
    add_->setEnabled(survey != nullptr);
    const int pages = picture_ ? picture_->pages : 1;
    const bool pdf_page_is_wrong = seen != nullptr && seen->page > pages;
    filling_ = true;
    page_->setVisible(seen != nullptr && (pages > 1 || pdf_page_is_wrong));
    page_->setRange(1, std::max(pages, seen != nullptr ? seen->page : 1));
    if (seen != nullptr) page_->setValue(seen->page);
    page_->setSuffix(tr(" of %1").arg(pages));
    filling_ = false;
    if (seen == nullptr) {
        words_->setText(survey ? tr("There is no plan yet. Add a picture of a deck, a storey or a vehicle, then drag "
                                    "the spaces from the list on to it; each shows how bad it is there.")
                               : QString());
        return;
    }
    QStringList words;
    if (picture_ && !picture_->why_not.isEmpty()) words << picture_->why_not + QChar(u'.');
    if (reading_ && !picture_) words << tr("Reading the picture…");
    int waiting = 0;
    for (const Space& each : survey->spaces) waiting += each.place ? 0 : 1;
    if (waiting > 0) words << tr("%n space(s) not on a plan yet: drag them here from the list.", nullptr, waiting);
    if (picture_ && picture_->is_scaled) words << tr("The picture is larger than shown here; it was read scaled down.");
    words_->setText(words.join(QChar(u' ')));
}

void PlanPanel::choose(const std::string& space)
{
    seen_space_ = space;
    const auto judgement = session_.judgement();
    const Verdict* worst = nullptr;
    if (judgement)
        for (const Verdict& verdict : judgement->assessment().verdicts)
            if (verdict.space == space && (worst == nullptr || is_worse(verdict, *worst))) worst = &verdict;
    if (worst != nullptr) {
        session_.choose_verdict(*worst);
        return;
    }
    Choice choice;
    choice.space = space;
    session_.choose(choice);
}

bool PlanPanel::add_plan(const QString& path)
{
    const auto survey = session_.document().survey();
    if (!survey) return false;
    const QFileInfo file(path);
    const Plan plan{.id = id_for(path, *survey),
                    .title = plain(file.completeBaseName()),
                    .file = plain(QDir(session_.document().folder()).relativeFilePath(file.absoluteFilePath()))};
    plan_id_ = plan.id;
    return session_.change(
        tr("add a plan"),
        io::with_entry(session_.document().text(), plain(session_.document().path()), "plan", io::entry_as_toml(plan)));
}

bool PlanPanel::place(const std::string& space, PlanPlace place)
{
    const auto number = number_of(space);
    if (!number || plan() == nullptr) return false;
    const std::string path = plain(session_.document().path());
    seen_space_ = space; // its plan is the one that is seen
    auto text = io::with_value(session_.document().text(), path, "space", *number, "plan", io::toml_string(plan_id_));
    if (text)
        text = io::with_value(*text, path, "space", *number, "place", io::toml_list(std::array{place.x, place.y}));
    return session_.change(tr("place a space"), std::move(text));
}

bool PlanPanel::take_off(const std::string& space)
{
    const auto number = number_of(space);
    if (!number) return false;
    const std::string path = plain(session_.document().path());
    auto text = io::without_value(session_.document().text(), path, "space", *number, "place");
    if (text) text = io::without_value(*text, path, "space", *number, "plan");
    return session_.change(tr("take a space off its plan"), std::move(text));
}

} // namespace becalm::desktop

#include "ui/desktop/gather_page.h"

#include <QDragEnterEvent>
#include <QEvent>
#include <QFileDialog>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QMimeData>
#include <QVBoxLayout>
#include <algorithm>

#include "src/io/toml_text.h"
#include "ui/desktop/gather_tables.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

QLabel* hint(const QString& words)
{
    auto* label = new QLabel(words);
    label->setWordWrap(true);
    return label;
}

QString setting_words(Setting setting)
{
    switch (setting) {
    case Setting::vessel: return GatherPage::tr("vessel");
    case Setting::rail: return GatherPage::tr("rail vehicle");
    case Setting::road: return GatherPage::tr("road vehicle");
    case Setting::building: return GatherPage::tr("building");
    case Setting::lift: return GatherPage::tr("lift");
    }
    return {};
}

// Commits when the focus leaves it; a note has several lines, so Enter is a line.
class NoteEdit final : public QPlainTextEdit {
public:
    explicit NoteEdit(std::function<void()> done) : done_(std::move(done)) { setTabChangesFocus(true); }

protected:
    void focusOutEvent(QFocusEvent* event) override
    {
        QPlainTextEdit::focusOutEvent(event);
        done_();
    }

private:
    std::function<void()> done_;
};

Result<std::string> with_recordings(std::string text, const std::string& path, const Survey& further)
{
    TextChanges changes;
    for (const Space& space : further.spaces) changes.entries.push_back({"space", io::entry_as_toml(space)});
    for (const Recording& recording : further.recordings)
        changes.entries.push_back({"recording", io::entry_as_toml(recording)});
    return changed_text(std::move(text), path, changes);
}

} // namespace

GatherPage::GatherPage(Session& session, QWidget* parent)
    : Page(session, parent), adding_(*this, [this](std::shared_ptr<Added> added) { take(std::move(*added)); })
{
    setAcceptDrops(true);
    channels_ = new ChannelModel(session_, facts_, this);
    entries_ = {make_space_table(session_, this), make_condition_table(session_, this),
                make_sensor_table(session_, this), make_source_table(session_, this)};
    tabs_ = new QTabWidget;
    tabs_->setAccessibleName(tr("What the survey tells of"));
    tabs_->setDocumentMode(true);
    tabs_->addTab(make_recordings(), {});
    tabs_->addTab(make_entries(entries_[0], tr("Spaces"),
                               tr("A row a room, cabin, seat row or floor. Its use chooses the scale of a criterion.")),
                  {});
    tabs_->addTab(make_entries(entries_[1], tr("Conditions"),
                               tr("What the ship, train, lift, plant or traffic was doing. A space is judged for each "
                                  "condition by itself.")),
                  {});
    tabs_->addTab(make_entries(entries_[2], tr("Sensors"),
                               tr("A recording that names a sensor carries its uncertainty into the verdict.")),
                  {});
    tabs_->addTab(make_entries(entries_[3], tr("Sources"),
                               tr("What can excite vibration. Sources explain peaks of a spectrum; no verdict depends "
                                  "on them.")),
                  {});
    tabs_->addTab(make_survey(), tr("S&urvey"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(tabs_);
    connect(tabs_, &QTabWidget::currentChanged, this, [this] { refresh(); });
    connect(&facts_, &RecordingFacts::changed, this, [this] {
        channels_->load();
        show_row();
    });
}

QWidget* GatherPage::make_recordings()
{
    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 8, 0, 0);
    auto* buttons = new QHBoxLayout;
    const auto add = [&](const QString& words, const QString& tip) {
        auto* button = new QPushButton(words);
        button->setToolTip(tip);
        buttons->addWidget(button);
        return button;
    };
    auto* files = add(tr("&Add recordings…"), tr("Or drop files or a folder on this page"));
    auto* folder = add(tr("Add a &folder…"), tr("Every recording in it and up to three folders below"));
    right_ = add(tr("&These are right"), tr("What is guessed for the chosen recordings is so"));
    split_ = add(tr("&Place of its own"), tr("The chosen channels of a recording were somewhere else: they get a space "
                                             "of their own"));
    remove_ = add(tr("Ta&ke out"), tr("The chosen recordings leave the survey; their files stay where they are"));
    buttons->addStretch(1);
    column->addLayout(buttons);
    column->addWidget(hint(tr("A row a channel. What belongs to the whole recording changes in all its rows. Guesses "
                              "say so until you change them or say that they are right.")));
    channel_grid_ = new SurveyGrid(*channels_, tr("Recordings and channels"));
    column->addWidget(channel_grid_, 1);
    row_words_ = new QLabel;
    row_words_->setAccessibleName(tr("What the chosen file says"));
    row_words_->setWordWrap(true);
    row_words_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    row_words_->setMinimumHeight(2 * row_words_->fontMetrics().lineSpacing());
    row_words_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    column->addWidget(row_words_);

    connect(files, &QPushButton::clicked, this, [this] {
        add_recordings(QFileDialog::getOpenFileNames(this, tr("Recordings"), session_.document().folder()));
    });
    connect(folder, &QPushButton::clicked, this, [this] {
        const QString path =
            QFileDialog::getExistingDirectory(this, tr("Folder of recordings"), session_.document().folder());
        if (!path.isEmpty()) add_recordings({path});
    });
    connect(right_, &QPushButton::clicked, this, [this] { (void)channels_->confirm(channel_grid_->chosen_rows()); });
    connect(split_, &QPushButton::clicked, this, [this] { (void)channels_->split(channel_grid_->chosen_rows()); });
    connect(remove_, &QPushButton::clicked, this, [this] { (void)channels_->remove(channel_grid_->chosen_rows()); });
    connect(channel_grid_->selectionModel(), &QItemSelectionModel::currentChanged, this, [this] { show_row(); });
    return page;
}

QWidget* GatherPage::make_entries(EntryModel* model, const QString& name, const QString& words)
{
    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 8, 0, 0);
    auto* grid = new SurveyGrid(*model, name);
    auto* buttons = new QHBoxLayout;
    auto* add = new QPushButton(tr("&Add"));
    add->setAccessibleName(tr("Add to %1").arg(name));
    auto* remove = new QPushButton(tr("Ta&ke out"));
    remove->setAccessibleName(tr("Take out of %1").arg(name));
    remove->setToolTip(tr("The chosen rows; refused while something names one of them"));
    buttons->addWidget(add);
    buttons->addWidget(remove);
    buttons->addWidget(hint(words), 1);
    column->addLayout(buttons);
    column->addWidget(grid, 1);
    connect(add, &QPushButton::clicked, this, [model, grid] {
        if (!model->add()) return;
        grid->setCurrentIndex(model->index(model->rowCount() - 1, 0));
        grid->setFocus();
    });
    connect(remove, &QPushButton::clicked, this, [model, grid] { (void)model->remove(grid->chosen_rows()); });
    return page;
}

QWidget* GatherPage::make_survey()
{
    auto* page = new QWidget;
    auto* form = new QFormLayout(page);
    form->setContentsMargins(0, 12, 0, 0);
    title_ = new QLineEdit;
    title_->setAccessibleName(tr("Title of the survey"));
    setting_ = new QComboBox;
    setting_->setAccessibleName(tr("Setting of the survey"));
    for (const Setting setting : all_settings) setting_->addItem(setting_words(setting), shown(name_of(setting)));
    client_ = new QLineEdit;
    client_->setAccessibleName(tr("Client of the survey"));
    note_ = new NoteEdit([this] { set_top(tr("note"), "note", note_->toPlainText()); });
    note_->setAccessibleName(tr("Note of the survey"));
    form->addRow(tr("&Title"), title_);
    form->addRow(tr("S&etting"), setting_);
    form->addRow(tr("&Client"), client_);
    form->addRow(tr("&Note"), note_);
    connect(title_, &QLineEdit::editingFinished, this, [this] { set_top(tr("title"), "title", title_->text()); });
    connect(client_, &QLineEdit::editingFinished, this, [this] { set_top(tr("client"), "client", client_->text()); });
    connect(setting_, &QComboBox::activated, this,
            [this] { set_top(tr("setting"), "setting", setting_->currentData().toString()); });
    return page;
}

void GatherPage::set_top(const QString& step, std::string_view key, const QString& words)
{
    const auto survey = session_.document().survey();
    if (!survey) return;
    const std::string before = key == "title"    ? survey->title
                               : key == "client" ? survey->client
                               : key == "note"   ? survey->note
                                                 : std::string(name_of(survey->setting));
    title_->setModified(false);
    client_->setModified(false);
    note_->document()->setModified(false);
    if (plain(words) == before) return;
    if (!session_.change(step, io::with_top_value(session_.document().text(), plain(session_.document().path()), key,
                                                  io::toml_string(plain(words)))))
        show_survey();
}

void GatherPage::show_survey()
{
    const auto survey = session_.document().survey();
    tabs_->widget(tabs_->count() - 1)->setEnabled(survey != nullptr);
    if (!survey) return;
    // What is being typed stays.
    const auto put = [](QLineEdit* line, const std::string& words) {
        const bool is_typed = line->hasFocus() && line->isModified();
        if (!is_typed && line->text() != shown(words)) line->setText(shown(words));
    };
    put(title_, survey->title);
    put(client_, survey->client);
    const bool is_typed = note_->hasFocus() && note_->document()->isModified();
    if (!is_typed && note_->toPlainText() != shown(survey->note)) note_->setPlainText(shown(survey->note));
    setting_->setCurrentIndex(setting_->findData(shown(name_of(survey->setting))));
}

void GatherPage::refresh()
{
    const auto survey = session_.document().survey();
    const int tab = tabs_->currentIndex();
    if (survey) {
        const auto name = [&](int at, const QString& words, std::size_t count) {
            tabs_->setTabText(at, QStringLiteral("%1 (%2)").arg(words).arg(count));
        };
        name(0, tr("&Recordings"), survey->recordings.size());
        name(1, tr("S&paces"), survey->spaces.size());
        name(2, tr("C&onditions"), survey->conditions.size());
        name(3, tr("Se&nsors"), survey->sensors.size());
        name(4, tr("Sour&ces"), survey->sources.size());
        std::vector<RecordingFacts::File> files;
        for (const Recording& recording : survey->recordings)
            if (std::ranges::find(files, recording.file, &RecordingFacts::File::name) == files.end())
                files.push_back({recording.file, recording.resample_hz});
        facts_.look_at(plain(session_.document().folder()), std::move(files));
    }
    if (tab == 0) {
        channels_->load();
        show_row();
    } else if (tab <= static_cast<int>(entries_.size())) {
        entries_[static_cast<std::size_t>(tab) - 1]->load();
    } else {
        show_survey();
    }
}

void GatherPage::show_row()
{
    const bool has_rows = channels_->rowCount() > 0;
    remove_->setEnabled(has_rows);
    split_->setEnabled(has_rows);
    right_->setEnabled(channels_->has_guesses());
    const QModelIndex current = channel_grid_->currentIndex();
    row_words_->setText(!has_rows           ? tr("No recordings yet: add some, or drop them here.")
                        : current.isValid() ? channels_->file_words(current.row())
                                            : QString());
}

void GatherPage::hideEvent(QHideEvent* event)
{
    facts_.pause();
    Page::hideEvent(event);
}

void GatherPage::add_recordings(const QStringList& paths)
{
    std::vector<std::string> all;
    for (const QString& path : paths) all.push_back(plain(path));
    if (!all.empty()) request_addition(std::move(all));
}

void GatherPage::request_addition(std::vector<std::string> paths)
{
    const auto survey = session_.document().survey();
    if (!survey) {
        session_.say(tr("The survey file has faults; mend them before recordings are added."));
        return;
    }
    adding_.request([survey, text = session_.document().text(), path = plain(session_.document().path()),
                     paths = std::move(paths)](const std::stop_token&) {
        auto added = std::make_shared<Added>();
        added->further = evaluators::further_recordings(*survey, paths);
        added->after = with_recordings(text, path, added->further.survey);
        added->before = text;
        added->paths = paths;
        return added;
    });
}

void GatherPage::take(Added added)
{
    if (session_.document().text() != added.before) { // edited meanwhile
        request_addition(std::move(added.paths));
        return;
    }
    for (const Problem& problem : added.further.problems) session_.say(problem_words(problem));
    const int count = static_cast<int>(added.further.survey.recordings.size());
    if (count == 0) return;
    if (!session_.change(tr("addition of %n recording(s)", nullptr, count), std::move(added.after))) return;
    tabs_->setCurrentIndex(0);
    channel_grid_->setCurrentIndex(channels_->index(channels_->rowCount() - 1, channels_->column_of("axis")));
}

void GatherPage::dragEnterEvent(QDragEnterEvent* event)
{
    // A survey is for the window, which opens it.
    const QList<QUrl> urls = event->mimeData()->urls();
    const bool are_recordings = !urls.isEmpty() && std::ranges::all_of(urls, [](const QUrl& url) {
        return url.isLocalFile() && !url.path().endsWith(QStringLiteral(".toml"), Qt::CaseInsensitive);
    });
    if (are_recordings)
        event->acceptProposedAction();
    else
        event->ignore();
}

void GatherPage::dropEvent(QDropEvent* event)
{
    QStringList paths;
    for (const QUrl& url : event->mimeData()->urls())
        if (url.isLocalFile()) paths << url.toLocalFile();
    event->acceptProposedAction();
    add_recordings(paths);
}

} // namespace becalm::desktop

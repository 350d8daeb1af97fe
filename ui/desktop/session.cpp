#include "ui/desktop/session.h"

#include <QCryptographicHash>
#include <QDir>
#include <QFileInfo>
#include <algorithm>
#include <atomic>

#include "src/io/json_out.h"
#include "ui/desktop/verdict_facts.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

bool matches(const std::string& wanted, const std::string& found) { return wanted.empty() || wanted == found; }

} // namespace

Session::Session(Folders folders, QObject* parent)
    : QObject(parent), folders_(std::move(folders)), document_(folders_.kept, this),
      library_(std::make_shared<const io::CriteriaLibrary>()),
      judge_task_(*this,
                  [this](std::shared_ptr<Judgement> judgement) {
                      judging_ = false;
                      judgement_ = std::move(judgement);
                      emit busy_changed();
                      emit judgement_changed();
                  }),
      explain_task_(*this,
                    [this](std::shared_ptr<Causes> causes) {
                        explaining_ = false;
                        causes_ = std::move(causes);
                        emit busy_changed();
                        emit causes_changed();
                    }),
      report_task_(*this, [this](std::shared_ptr<ReportOutcome> outcome) {
          reporting_ = false;
          emit busy_changed();
          emit report_done(*outcome);
      })
{
    connect(&document_, &SurveyDocument::changed, this, &Session::survey_changed);
}

Session::~Session() { disconnect(&document_, nullptr, this, nullptr); }

void Session::load_library()
{
    const QString folder = document_.folder();
    if (library_of_ == folder) return;
    library_of_ = folder;
    auto loaded = io::load_all_criteria(plain(document_.path()));
    if (!loaded) {
        for (const Problem& problem : loaded.error()) say(problem_words(problem));
        library_ = std::make_shared<const io::CriteriaLibrary>();
        return;
    }
    for (const Problem& problem : loaded->library.problems) say(problem_words(problem));
    library_ = std::make_shared<const io::CriteriaLibrary>(std::move(loaded->library));
}

std::string Session::cache_folder()
{
    const QString folder = document_.folder();
    if (QFileInfo(folder).isWritable()) return plain(QDir(folder).filePath(QStringLiteral(".becalm")));
    const QByteArray hash = QCryptographicHash::hash(folder.toUtf8(), QCryptographicHash::Sha1).toHex();
    const QString aside = QDir(folders_.cache).filePath(QString::fromLatin1(hash));
    QDir().mkpath(aside);
    return plain(aside);
}

// From any thread; told at most twenty times a second.
std::function<void(double)> Session::progress_teller()
{
    auto timer = std::make_shared<QElapsedTimer>();
    timer->start();
    auto last = std::make_shared<std::atomic<qint64>>(-1000);
    return [this, timer, last](double fraction) {
        const qint64 now = timer->elapsed();
        if (now - last->load() < 50 && fraction < 1.0) return;
        last->store(now);
        const double left_s =
            fraction > 0.01 && now > 500 ? static_cast<double>(now) / 1e3 * (1.0 - fraction) / fraction : -1.0;
        QMetaObject::invokeMethod(
            this, [this, fraction, left_s] { emit progressed(fraction, left_s); }, Qt::QueuedConnection);
    };
}

void Session::survey_changed()
{
    explain_task_.cancel();
    explaining_ = false;
    causes_.reset();
    if (!document_.is_open() || !document_.survey()) {
        judge_task_.cancel();
        judging_ = false;
        if (!document_.is_open()) {
            judgement_.reset();
            choice_ = {};
            emit choice_changed();
            emit judgement_changed();
        }
        emit busy_changed();
        emit causes_changed();
        return;
    }
    load_library();
    emit causes_changed();
    judge();
}

void Session::judge()
{
    const auto survey = document_.survey();
    if (!survey) return;
    judging_ = true;
    emit busy_changed();
    judge_task_.request(
        [survey, library = library_, cache = cache_folder(), progress = progress_teller()](std::stop_token stop) {
            QElapsedTimer timer;
            timer.start();
            auto judgement = std::make_shared<Judgement>();
            judgement->survey = survey;
            auto result = evaluators::judged(*survey, *library,
                                             {.cache_folder = cache, .progress = progress, .stop = std::move(stop)});
            if (result)
                judgement->judged = std::move(*result);
            else
                judgement->problems = std::move(result.error());
            judgement->took_s = static_cast<double>(timer.nsecsElapsed()) / 1e9;
            return judgement;
        });
}

void Session::cancel()
{
    judge_task_.cancel();
    explain_task_.cancel();
    report_task_.cancel();
    judging_ = explaining_ = reporting_ = false;
    emit busy_changed();
}

void Session::explain(std::vector<evaluators::Change> changes)
{
    const auto survey = document_.survey();
    if (!survey || choice_.space.empty()) return;
    explaining_ = true;
    emit busy_changed();
    explain_task_.request([survey, library = library_, cache = cache_folder(), progress = progress_teller(),
                           space = choice_.space, changes = std::move(changes)](std::stop_token stop) {
        auto causes = std::make_shared<Causes>();
        causes->survey = survey;
        causes->space = space;
        causes->changes = changes;
        auto report =
            evaluators::explain(*survey, *library,
                                {.assess = {.cache_folder = cache, .progress = progress, .stop = std::move(stop)},
                                 .space = space,
                                 .changes = changes,
                                 .spectrograms = true});
        if (report)
            causes->report = std::move(*report);
        else
            causes->problems = std::move(report.error());
        return causes;
    });
}

void Session::write_report(report::ReportRequest request)
{
    request.survey = plain(document_.path());
    request.progress = progress_teller();
    reporting_ = true;
    emit busy_changed();
    report_task_.request([request = std::move(request)](std::stop_token stop) {
        auto outcome = std::make_shared<ReportOutcome>();
        outcome->request = request;
        outcome->request.stop = stop;
        const auto made = report::made_report(outcome->request);
        if (!made) {
            outcome->written.problems = made.error();
        } else if (!stop.stop_requested()) {
            outcome->cautions = made->cautions;
            outcome->unreadable = made->unreadable;
            outcome->nothing_judged = made->nothing_judged;
            outcome->written = report::write_report(outcome->request, *made);
        }
        return outcome;
    });
}

void Session::choose(Choice choice)
{
    if (choice == choice_) return;
    const bool other_space = choice.space != choice_.space;
    choice_ = std::move(choice);
    if (other_space) {
        explain_task_.cancel();
        explaining_ = false;
        causes_.reset();
        emit busy_changed();
    }
    emit choice_changed();
    if (other_space) emit causes_changed();
}

void Session::choose_verdict(const Verdict& verdict)
{
    Choice choice = choice_;
    choice.space = verdict.space;
    choice.position = verdict.position;
    choice.condition = verdict.condition;
    choice.criterion = verdict.criterion;
    choice.person = verdict.person;
    if (std::ranges::find(verdict.recordings, choice.recording) == verdict.recordings.end()) {
        choice.recording = verdict.recordings.empty() ? std::string() : verdict.recordings.front();
        choice.channel = 0;
    }
    choose(std::move(choice));
}

const Verdict* Session::chosen_verdict() const
{
    if (!judgement_) return nullptr;
    const Verdict* found = nullptr;
    for (const Verdict& verdict : judgement_->assessment().verdicts) {
        if (!matches(choice_.space, verdict.space) || !matches(choice_.position, verdict.position) ||
            !matches(choice_.condition, verdict.condition) || !matches(choice_.criterion, verdict.criterion) ||
            !matches(choice_.person, verdict.person))
            continue;
        if (found == nullptr || is_worse(verdict, *found)) found = &verdict;
    }
    return found;
}

std::string Session::judgement_json() const
{
    return judgement_ && judgement_->problems.empty() ? io::as_json(judgement_->assessment()) : std::string();
}

bool Session::change(const QString& what, Result<std::string> changed)
{
    const auto made = document_.change(what, std::move(changed));
    if (!made) say(problem_words(made.error()));
    return made.has_value();
}

} // namespace becalm::desktop

// What the pages share: the survey that is open, its judgement as it stands, the causes, and what is being looked at.
//
// Every number comes from evaluators/assess.h and evaluators/explain.h, off the interface thread; the pages show and
// ask. A changed survey is judged anew at once; passes come from the cache, so an excluded span is judged in a frame.
#pragma once

#include <QElapsedTimer>
#include <QObject>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "evaluators/assess.h"
#include "evaluators/explain.h"
#include "src/io/criteria_folders.h"
#include "ui/desktop/latest_task.h"
#include "ui/desktop/survey_document.h"
#include "ui/report/make_report.h"

namespace becalm::desktop {

// A judgement with the survey it is of, which `judged.measured` points into.
struct Judgement {
    std::shared_ptr<const Survey> survey = {};
    evaluators::Judged judged = {};
    std::vector<Problem> problems = {}; // why there is none
    double took_s = 0.0;

    const Assessment& assessment() const { return judged.assessment; }
};

struct Causes {
    std::shared_ptr<const Survey> survey = {};
    std::string space = {};
    std::vector<evaluators::Change> changes = {};
    ExplanationReport report = {};
    std::vector<Problem> problems = {};
};

// A report that was asked for: what has been written, or why not.
struct ReportOutcome {
    report::ReportRequest request = {};
    report::Written written = {};
    std::vector<Problem> cautions = {};
    bool unreadable = false, nothing_judged = false;
};

// What is being looked at, on every page alike. Empty: no choice. Ids as the survey has them.
struct Choice {
    std::string space = {};
    std::string position = {};
    std::string condition = {};
    std::string criterion = {};
    std::string person = {};
    std::string recording = {}; // file
    int channel = 0;            // from 1; 0: the first

    friend bool operator==(const Choice&, const Choice&) = default;
};

class Session final : public QObject {
    Q_OBJECT

public:
    // Folders of the program's own data, of texts kept aside and of passes where the survey's folder cannot hold them.
    struct Folders {
        QString kept = {};
        QString cache = {};
    };
    explicit Session(Folders folders, QObject* parent = nullptr);
    ~Session() override;

    SurveyDocument& document() { return document_; }
    const SurveyDocument& document() const { return document_; }
    const io::CriteriaLibrary& library() const { return *library_; }

    // null before the first judgement. It may be of the survey as it was a moment ago: compare `survey`.
    std::shared_ptr<const Judgement> judgement() const { return judgement_; }
    bool is_judging() const { return judging_; }
    void judge();  // anew; also done by itself whenever the survey changes
    void cancel(); // what is being worked out

    // The causes of the chosen space. null: not asked for yet, or the survey has changed since.
    std::shared_ptr<const Causes> causes() const { return causes_; }
    bool is_explaining() const { return explaining_; }
    void explain(std::vector<evaluators::Change> changes = {});

    // Writes the report of the survey as it lies on the disk, byte for byte what `becalm report` writes. `request`
    // needs no survey.
    void write_report(report::ReportRequest request);
    bool is_reporting() const { return reporting_; }

    const Choice& choice() const { return choice_; }
    void choose(Choice choice);
    void choose_verdict(const Verdict& verdict);
    // Of the judgement: the one that the choice means, the worst of those it leaves open; null where there is none.
    const Verdict* chosen_verdict() const;

    // The verdicts of the whole survey, byte for byte what `becalm assess --json` writes.
    std::string judgement_json() const;

    // A sentence for the person at the window.
    void say(const QString& sentence) { emit said(sentence); }
    // Makes a change of the survey's text; a Problem is said.
    bool change(const QString& what, Result<std::string> changed);

signals:
    void judgement_changed();
    void causes_changed();
    void choice_changed();
    void report_done(const becalm::desktop::ReportOutcome& outcome);
    void busy_changed();                             // is_judging(), is_explaining(), is_reporting()
    void progressed(double fraction, double left_s); // left_s < 0: not known yet
    void said(const QString& sentence);

private:
    void survey_changed();
    void load_library();
    std::string cache_folder();
    std::function<void(double)> progress_teller();

    Folders folders_;
    SurveyDocument document_;
    std::shared_ptr<const io::CriteriaLibrary> library_;
    QString library_of_; // folder of the survey whose criteria are in library_
    std::shared_ptr<const Judgement> judgement_;
    std::shared_ptr<const Causes> causes_;
    Choice choice_;
    bool judging_ = false, explaining_ = false, reporting_ = false;
    LatestTask<std::shared_ptr<Judgement>> judge_task_;
    LatestTask<std::shared_ptr<Causes>> explain_task_;
    LatestTask<std::shared_ptr<ReportOutcome>> report_task_;
};

} // namespace becalm::desktop

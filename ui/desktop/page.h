// One question about the survey. A page shows what the session holds and asks it for changes; it computes nothing that
// a verdict rests on.
#pragma once

#include <QShowEvent>
#include <QWidget>

#include "ui/desktop/session.h"

namespace becalm::desktop {

class Page : public QWidget {
    Q_OBJECT

public:
    explicit Page(Session& session, QWidget* parent = nullptr) : QWidget(parent), session_(session)
    {
        for (const auto signal : {&Session::judgement_changed, &Session::causes_changed, &Session::choice_changed})
            connect(&session, signal, this, [this] { update_soon(); });
        connect(&session.document(), &SurveyDocument::changed, this, [this] { update_soon(); });
    }

    // Shows what the session holds now, if the page is seen; a hidden page waits until it is.
    void update_soon()
    {
        if (isVisible())
            refresh();
        else
            stale_ = true;
    }

signals:
    void hovered(const QString& words); // what lies under the cursor, for the line at the bottom
    void amount_wanted();               // of what is chosen: the page "How much"

protected:
    virtual void refresh() = 0;

    void showEvent(QShowEvent* event) override
    {
        QWidget::showEvent(event);
        if (std::exchange(stale_, false)) refresh();
    }

    Session& session_;

private:
    bool stale_ = true;
};

} // namespace becalm::desktop

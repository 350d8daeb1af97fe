// The spans of a recording as a table: what is left out and why, and the events that are judged. Numbers and words can
// be typed over; what was typed is handed to the page, which changes the survey.
#pragma once

#include <QAbstractTableModel>
#include <vector>

#include "src/model/survey.h"

namespace becalm::desktop {

// "12.5", "86399.125": seconds to the millisecond, in the chosen language, without group separators.
QString seconds_words(double seconds);

class SpanModel final : public QAbstractTableModel {
    Q_OBJECT

public:
    enum Column { kind, from, to, words, columns };
    struct Span {
        bool is_event = false;
        std::size_t index = 0; // among those of its kind
        double from_s = 0.0, to_s = 0.0;
        std::string words = {};
    };

    explicit SpanModel(QObject* parent = nullptr) : QAbstractTableModel(parent) {}

    void show(const std::vector<ExcludedSpan>& excluded, const std::vector<EventSpan>& events);
    const Span& span(int row) const { return spans_[static_cast<std::size_t>(row)]; }

    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
    Qt::ItemFlags flags(const QModelIndex& index) const override;
    bool setData(const QModelIndex& index, const QVariant& value, int role) override;

signals:
    void changed(const Span& span); // as it shall be
    void not_a_number(const QString& typed);

private:
    std::vector<Span> spans_;
};

} // namespace becalm::desktop

#include "ui/desktop/components_model.h"

#include <QFont>
#include <algorithm>

#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

QString percent(double share)
{
    return number_words(100.0 * share, share < 0.0995 ? 2 : 3) + QStringLiteral(" %"); // no-break space
}

QString hertz(double hz, int significant) { return number_words(hz, significant) + QStringLiteral(" Hz"); }

} // namespace

void ComponentsModel::show(std::shared_ptr<const Causes> causes, const Explanation* explanation)
{
    beginResetModel();
    causes_ = std::move(causes);
    explanation_ = explanation;
    endResetModel();
}

const ExplainedComponent* ComponentsModel::component(int row) const
{
    return row >= 0 && row < rowCount() ? &explanation_->components[static_cast<std::size_t>(row)] : nullptr;
}

int ComponentsModel::rowCount(const QModelIndex& parent) const
{
    return parent.isValid() || explanation_ == nullptr ? 0 : static_cast<int>(explanation_->components.size());
}

int ComponentsModel::columnCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : column_count; }

QString ComponentsModel::words(const ExplainedComponent& component, int column) const
{
    switch (column) {
    case frequency: return hertz(component.hz, 5);
    case axis: return shown(component.axis);
    case share: return percent(component.share);
    case made_by: {
        if (component.matches.empty()) return tr("unexplained: no source of the survey makes it");
        QString names;
        for (const SourceMatch& match : component.matches)
            names +=
                (names.isEmpty() ? QString() : tr(" or ")) + tr("%1 (%2)").arg(shown(match.source), shown(match.line));
        return names;
    }
    case because: {
        QStringList all;
        if (!component.matches.empty())
            for (const std::string& evidence : component.matches.front().evidence) all << shown(evidence);
        return all.join(QStringLiteral("; "));
    }
    case series: return shown(component.series);
    case beats: return component.beat_hz ? tr("at %1").arg(hertz(*component.beat_hz, 3)) : QString();
    case drift:
        return component.drift_hz
                   ? tr("%1 to %2")
                         .arg(number_words(component.drift_hz->front(), 4), hertz(component.drift_hz->back(), 4))
                   : QString();
    default: return {};
    }
}

QVariant ComponentsModel::data(const QModelIndex& index, int role) const
{
    const ExplainedComponent* found = component(index.row());
    if (found == nullptr) return {};
    if (role == Qt::DisplayRole || role == Qt::ToolTipRole) return words(*found, index.column());
    if (role == Qt::TextAlignmentRole && (index.column() == frequency || index.column() == share))
        return QVariant(Qt::AlignRight | Qt::AlignVCenter);
    if (role == Qt::FontRole && found->matches.empty() && index.column() == made_by) {
        QFont font;
        font.setItalic(true);
        return font;
    }
    return {};
}

QVariant ComponentsModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) return {};
    switch (section) {
    case frequency: return tr("Frequency");
    case axis: return tr("Axis");
    case share: return tr("Share");
    case made_by: return tr("Made by");
    case because: return tr("Because");
    case series: return tr("Series");
    case beats: return tr("Beats");
    case drift: return tr("Drifts");
    default: return {};
    }
}

QString shares_in_words(const Explanation& explanation)
{
    return ComponentsModel::tr(
               "Of the energy: %1 by named sources, %2 in components that no source explains, %3 broad.")
        .arg(percent(explanation.explained_share), percent(explanation.unexplained_share),
             percent(explanation.broad_share));
}

} // namespace becalm::desktop

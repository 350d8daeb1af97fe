// What the tables of the survey's nouns look like: columns in the words of the trade, choices, what a new entry needs.
#pragma once

#include "ui/desktop/entry_model.h"

namespace becalm::desktop {

EntryModel* make_sensor_table(Session& session, QObject* parent);
EntryModel* make_condition_table(Session& session, QObject* parent);
EntryModel* make_source_table(Session& session, QObject* parent);
EntryModel* make_space_table(Session& session, QObject* parent);

// Uses that the survey's criteria have a scale for; where they have none, those of all criteria for its setting.
std::vector<std::string> known_uses(const Survey& survey, const io::CriteriaLibrary& library);

} // namespace becalm::desktop

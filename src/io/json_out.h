// JSON and CSV for programs; the schemas lie in data/schema. Numbers are full doubles (the shortest text that reads
// back the same), null where a value does not exist. Both faces write through here, so they write the same.
#pragma once

#include <string>
#include <vector>

#include "src/io/ledger_npy.h"
#include "src/model/assessment.h"
#include "src/model/comparison.h"
#include "src/model/explanation.h"
#include "src/model/exposure_report.h"
#include "src/model/monitoring.h"
#include "src/model/planted.h"
#include "src/model/reports.h"
#include "src/model/trend.h"

namespace becalm::io {

std::string as_json(const std::vector<WeighedFile>& files); // becalm.weigh/1
std::string as_json(const ResponseReport& response);        // becalm.response/1
std::string as_json(const SpectrumReport& spectrum);        // becalm.spectrum/1
std::string as_json(const RelationReport& relation);        // becalm.relation/1
std::string as_json(const AlignmentReport& alignment);      // becalm.alignment/1
std::string as_json(const DecayReport& decay);              // becalm.decay/1
std::string as_json(const HistoryReport& history);          // becalm.history/1
std::string as_json(const Assessment& assessment);          // becalm.assessment/1
std::string as_json(const ComparisonReport& report);        // becalm.comparison/1
std::string as_json(const TrendReport& report);             // becalm.trend/1
std::string as_json(const ExposureReport& report);          // becalm.exposure/1
std::string as_json(const MonitorReport& report);           // becalm.monitor/1
std::string as_json(const ExplanationReport& report);       // becalm.explanation/1
std::string as_json(const LedgerIndex& index);              // becalm.ledger/1
std::string as_json(const PlantedReport& report);           // becalm.planted/1
std::string as_json(const LedgerAnswer& answer);            // becalm.ledger-answer/1

// One row a verdict: comma-separated, quoted where needed, a header row, point as decimal sign [RFC 4180].
std::string as_csv(const Assessment& assessment);
// One row an axis of a task, then one of the task; at the end of each table the same of the day.
std::string as_csv(const ExposureReport& report);
// One row a pair, then one for each that has no partner.
std::string as_csv(const ComparisonReport& report);
// One row a period of each series.
std::string as_csv(const MonitorReport& report);
// For each trend a row a point (kind "measured"), then what the line says: where it was drawn ("line") and where it was
// asked for ("expected"). The trend's own numbers stand in each row.
std::string as_csv(const TrendReport& report);

} // namespace becalm::io

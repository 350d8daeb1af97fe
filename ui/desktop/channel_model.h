// The recordings of the survey, a row a channel: also the channels that no [[recording]] of the file uses. What belongs
// to the whole recording is the same in all its rows, and changes in all of them.
#pragma once

#include "evaluators/new_survey.h"
#include "ui/desktop/recording_facts.h"
#include "ui/desktop/survey_table.h"

namespace becalm::desktop {

class ChannelModel final : public SurveyTable {
    Q_OBJECT

public:
    ChannelModel(Session& session, const RecordingFacts& facts, QObject* parent);

    std::vector<Option> options(int row, int column) const override;
    QString typed_at(int row, int column) const override;

    // What is guessed for the recordings of these rows is so.
    bool confirm(const std::vector<int>& rows);
    // The recordings leave the survey; their files stay.
    bool remove(const std::vector<int>& rows);
    // These channels of one recording were in a place of their own: a [[recording]] of the same file, with a new space.
    bool split(const std::vector<int>& rows);

    std::size_t recordings_of(const std::vector<int>& rows) const;
    bool has_guesses() const;
    // Everything the file of this row says, in sentences.
    QString file_words(int row) const;

protected:
    int reload() override;
    QString words_at(int row, int column) const override;
    QString tip_at(int row, int column) const override;
    bool is_guess(int row, int column) const override;
    bool is_alarming(int row, int column) const override;
    bool is_repeated(int row, int column) const override;
    int group_of(int row) const override;
    Result<TextChanges> changes_of(const std::vector<CellEdit>& edits) const override;

private:
    struct Row {
        std::size_t recording = 0;
        int channel = 1;
    };
    const Row& at(int row) const { return rows_[static_cast<std::size_t>(row)]; }
    const Recording& recording_at(int row) const { return survey_->recordings[at(row).recording]; }
    const FileFacts* facts_at(int row) const;
    const std::string& key_of(int column) const { return columns()[static_cast<std::size_t>(column)].key; }
    std::vector<std::size_t> recordings_in(const std::vector<int>& rows) const;

    const RecordingFacts& facts_;
    std::shared_ptr<const Survey> survey_;
    std::vector<Row> rows_;
};

} // namespace becalm::desktop

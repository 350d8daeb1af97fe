// Tables of the survey without a window: what an edit makes of the text.
#include <QSignalSpy>

#include "src/io/document_keys.h"
#include "ui/desktop/channel_model.h"
#include "ui/desktop/gather_tables.h"
#include "ui/desktop/task_model.h"
#include "ui/desktop/words.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::Eq;
using ::testing::HasSubstr;
using ::testing::Not;

class EntryModelTest : public ::testing::Test {
protected:
    void SetUp() override
    {
        survey_ = write_small_survey(folder_);
        original_ = content_of(survey_);
        ASSERT_TRUE(session_.document().open(qt(survey_)));
        QObject::connect(&session_, &Session::said, &session_, [this](const QString& words) { said_ << words; });
    }
    bool set(SurveyTable& table, int row, std::string_view key, const QString& typed)
    {
        return table.setData(table.index(row, table.column_of(key)), typed, Qt::EditRole);
    }
    const std::string& text() const { return session_.document().text(); }
    void undo() { session_.document().steps().undo(); }
    int steps() { return session_.document().steps().count(); }

    ScratchFolder folder_;
    std::string survey_, original_;
    QStringList said_;
    Session session_{{.kept = qt(folder_.path("kept")), .cache = qt(folder_.path("passes"))}};
    QObject owner_;
};

TEST_F(EntryModelTest, EveryKeyOfANounHasAColumn)
{
    const auto expect = [](const SurveyTable& table, const auto& keys) {
        for (const std::string_view key : keys) {
            if (key == "plan" || key == "place" || key == "exclude" || key == "events" || key == "channels" ||
                key == "calibrations")
                continue;
            EXPECT_GE(table.column_of(key), 0) << key;
        }
    };
    expect(*make_sensor_table(session_, &owner_), io::keys::sensor);
    expect(*make_source_table(session_, &owner_), io::keys::source);
    expect(*make_source_table(session_, &owner_), io::keys::source_values);
    expect(*make_space_table(session_, &owner_), io::keys::space);
    const auto* conditions = make_condition_table(session_, &owner_);
    expect(*conditions, io::keys::condition_values);
    EXPECT_GE(conditions->column_of("events"), 0);
    EXPECT_GE(conditions->column_of("period"), 0);
    EXPECT_GE(conditions->column_of("exposure_h"), 0);
    const RecordingFacts facts;
    expect(ChannelModel(session_, facts, &owner_), io::keys::recording);
}

TEST_F(EntryModelTest, ADecimalCommaIsRead)
{
    auto* sensors = make_sensor_table(session_, &owner_);
    ASSERT_TRUE(set(*sensors, 0, "uncertainty_percent", "4,5"));
    EXPECT_THAT(text(), HasSubstr("uncertainty_percent = 4.5\n"));
    undo();
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(EntryModelTest, WhatIsNoNumberIsRefusedInASentenceAndTheCellStays)
{
    auto* sensors = make_sensor_table(session_, &owner_);
    EXPECT_FALSE(set(*sensors, 0, "uncertainty_percent", "some"));
    ASSERT_EQ(said_.size(), 1);
    EXPECT_THAT(plain(said_[0]), HasSubstr("\"some\" is no number"));
    EXPECT_EQ(sensors->typed_at(0, sensors->column_of("uncertainty_percent")), "3");
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(EntryModelTest, WhatTheReaderRefusesIsSaidInItsWords)
{
    auto* sensors = make_sensor_table(session_, &owner_);
    EXPECT_FALSE(set(*sensors, 0, "uncertainty_percent", "-1"));
    EXPECT_FALSE(set(*sensors, 0, "calibrated", "last spring"));
    EXPECT_FALSE(set(*sensors, 0, "id", ""));
    EXPECT_EQ(said_.size(), 3);
    EXPECT_EQ(steps(), 0);
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(EntryModelTest, RenamingAnIdRenamesItWhereverItIsNamedInOneStep)
{
    auto* sensors = make_sensor_table(session_, &owner_);
    ASSERT_TRUE(set(*sensors, 0, "id", "plate 1"));
    EXPECT_EQ(steps(), 1);
    for (const Recording& recording : session_.document().survey()->recordings) EXPECT_EQ(recording.sensor, "plate 1");
    EXPECT_THAT(text(), Not(HasSubstr("\"s1\"")));
    undo();
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(EntryModelTest, ASpaceIsRenamedInTheTasksToo)
{
    TaskModel tasks(session_, &owner_);
    ASSERT_TRUE(tasks.add("Fitter", "", {.space = "c102", .hours = 4.0}));
    ASSERT_TRUE(tasks.add("Fitter", "", {.space = "c101", .hours = 2.5}));
    ASSERT_TRUE(set(*make_space_table(session_, &owner_), 1, "id", "cabin"));
    const auto survey = session_.document().survey();
    ASSERT_EQ(survey->exposures.size(), 1U);
    ASSERT_EQ(survey->exposures[0].tasks.size(), 2U);
    EXPECT_EQ(survey->exposures[0].tasks[0].space, "cabin");
    EXPECT_EQ(survey->exposures[0].tasks[1].space, "c101");
    EXPECT_EQ(survey->recordings[1].space, "cabin");
}

TEST_F(EntryModelTest, AnEmptiedCellTakesItsKeyAway)
{
    auto* sensors = make_sensor_table(session_, &owner_);
    ASSERT_TRUE(set(*sensors, 0, "serial", ""));
    EXPECT_THAT(text(), Not(HasSubstr("serial")));
    undo();
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(EntryModelTest, SeveralCellsOfOneEntryAreOneStep)
{
    auto* conditions = make_condition_table(session_, &owner_);
    ASSERT_TRUE(conditions->apply("x", {{0, conditions->column_of("exposure_h"), "7,5"},
                                        {0, conditions->column_of("shaft_rpm"), ""},
                                        {0, conditions->column_of("title"), "Slow"},
                                        {1, conditions->column_of("title"), "Harbour"},
                                        {1, conditions->column_of("sea_state"), "2"}}));
    EXPECT_EQ(steps(), 1);
    const auto survey = session_.document().survey();
    ASSERT_EQ(survey->conditions.size(), 2U);
    EXPECT_EQ(survey->conditions[0].title, "Slow");
    EXPECT_EQ(survey->conditions[0].exposure_h, 7.5);
    EXPECT_TRUE(survey->conditions[0].values.empty());
    EXPECT_EQ(survey->conditions[1].title, "Harbour");
    EXPECT_EQ(survey->conditions[1].id, "harbour");
    undo();
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(EntryModelTest, OneRefusedCellOfABlockRefusesTheBlock)
{
    auto* conditions = make_condition_table(session_, &owner_);
    EXPECT_FALSE(conditions->apply(
        "x", {{0, conditions->column_of("title"), "Slow"}, {0, conditions->column_of("exposure_h"), "25"}}));
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(EntryModelTest, AnEntryThatIsNamedElsewhereStays)
{
    auto* sensors = make_sensor_table(session_, &owner_);
    EXPECT_FALSE(sensors->remove({0}));
    EXPECT_EQ(said_.size(), 1);
    EXPECT_THAT(text(), Eq(original_));
    ASSERT_TRUE(sensors->add());
    sensors->load();
    EXPECT_EQ(sensors->typed_at(1, 0), "sensor");
    EXPECT_TRUE(sensors->remove({1}));
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(EntryModelTest, CalibrationIsToldInWords)
{
    auto* sensors = make_sensor_table(session_, &owner_);
    const auto words = [&] {
        sensors->load();
        return plain(sensors->data(sensors->index(0, sensors->column_of("state")), Qt::DisplayRole).toString());
    };
    EXPECT_THAT(words(), HasSubstr("no recording with a start"));
    const RecordingFacts facts;
    ChannelModel channels(session_, facts, &owner_);
    ASSERT_TRUE(set(channels, 0, "start", "2028-03-02T10:00:00+01:00"));
    EXPECT_THAT(words(), HasSubstr("more than 2 years before its use on 2028-03-02"));
    ASSERT_TRUE(set(channels, 0, "start", "2028-03-01T10:00:00+01:00"));
    EXPECT_THAT(words(), HasSubstr("in time"));
    ASSERT_TRUE(set(*sensors, 0, "calibrated", ""));
    EXPECT_THAT(words(), HasSubstr("no date"));
}

TEST_F(EntryModelTest, AWholeRecordingChangesWithOneOfItsRows)
{
    const RecordingFacts facts;
    ChannelModel channels(session_, facts, &owner_);
    ASSERT_EQ(channels.rowCount(), 9);
    ASSERT_TRUE(set(channels, 4, "scale", "9,81"));
    EXPECT_EQ(session_.document().survey()->recordings[1].scale, 9.81);
    channels.load();
    for (const int row : {3, 4, 5}) EXPECT_EQ(channels.typed_at(row, channels.column_of("scale")), "9.81") << row;
    EXPECT_EQ(channels.typed_at(6, channels.column_of("scale")), "");
}

TEST_F(EntryModelTest, AxesAreExchangedInOneStep)
{
    const RecordingFacts facts;
    ChannelModel channels(session_, facts, &owner_);
    const int axis = channels.column_of("axis");
    EXPECT_FALSE(set(channels, 0, "axis", "z")) << "two of one axis";
    ASSERT_TRUE(channels.apply("x", {{0, axis, "z"}, {2, axis, "x"}}));
    EXPECT_THAT(text(), HasSubstr("channels = { 1 = \"z\", 2 = \"y\", 3 = \"x\" }"));
    ASSERT_TRUE(set(channels, 1, "axis", ""));
    EXPECT_THAT(text(), HasSubstr("channels = { 1 = \"z\", 3 = \"x\" }"));
}

TEST_F(EntryModelTest, ANewNameOfASpaceMakesTheSpace)
{
    const RecordingFacts facts;
    ChannelModel channels(session_, facts, &owner_);
    const int space = channels.column_of("space");
    ASSERT_TRUE(channels.apply("x", {{0, space, "Saloon, aft"}, {3, space, "Saloon, aft"}, {6, space, "Cabin 101"}}));
    EXPECT_EQ(steps(), 1);
    const auto survey = session_.document().survey();
    ASSERT_EQ(survey->spaces.size(), 4U);
    EXPECT_EQ(survey->spaces[3].label, "Saloon, aft");
    EXPECT_EQ(survey->recordings[0].space, survey->spaces[3].id);
    EXPECT_EQ(survey->recordings[1].space, survey->spaces[3].id);
    EXPECT_EQ(survey->recordings[2].space, "c101") << "by its label";
    undo();
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(EntryModelTest, ChannelsGetAPlaceOfTheirOwn)
{
    const RecordingFacts facts;
    ChannelModel channels(session_, facts, &owner_);
    ASSERT_TRUE(channels.split({2}));
    const auto survey = session_.document().survey();
    ASSERT_EQ(survey->recordings.size(), 4U);
    EXPECT_EQ(survey->recordings[0].channels.size(), 2U);
    EXPECT_EQ(survey->recordings[3].file, "quiet.wav");
    ASSERT_EQ(survey->recordings[3].channels.size(), 1U);
    EXPECT_EQ(survey->recordings[3].channels[0].channel, 3);
    EXPECT_EQ(survey->spaces.back().id, survey->recordings[3].space);
    undo();
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(EntryModelTest, TheLastTaskGoesWithItsDay)
{
    TaskModel tasks(session_, &owner_);
    ASSERT_TRUE(tasks.add("Fitter", "Monday", {.space = "c102", .hours = 4.0}));
    tasks.load();
    ASSERT_TRUE(set(tasks, 0, "hours", "3,25"));
    ASSERT_TRUE(set(tasks, 0, "position", "floor"));
    ASSERT_TRUE(set(tasks, 0, "person", "Stoker"));
    EXPECT_EQ(session_.document().survey()->exposures[0].tasks[0].hours, 3.25);
    EXPECT_EQ(session_.document().survey()->exposures[0].person, "Stoker");
    tasks.load();
    ASSERT_TRUE(tasks.remove({0}));
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(EntryModelTest, ManyRecordingsAreFilledInAtOnce)
{
    std::string text_of_many = original_;
    constexpr int many = 200;
    for (int i = 0; i < many; ++i)
        text_of_many += fmt::format("\n[[recording]]\nfile = \"f{}.wav\"\nspace = \"mess\"\n"
                                    "channels = {{ 1 = \"x\", 2 = \"y\", 3 = \"z\" }}\n",
                                    i);
    ASSERT_TRUE(session_.change("x", text_of_many));
    const RecordingFacts facts;
    ChannelModel channels(session_, facts, &owner_);
    std::vector<CellEdit> edits;
    for (int row = 9; row < channels.rowCount(); ++row)
        for (const auto& [key, typed] : std::vector<std::pair<const char*, const char*>>{
                 {"sensor", "s1"}, {"scale", "2,5"}, {"position", "bed"}, {"condition", "Service speed"}})
            edits.push_back({row, channels.column_of(key), typed});
    ASSERT_EQ(edits.size(), 4U * 3U * many);
    ASSERT_TRUE(channels.apply("fill", edits));
    EXPECT_EQ(steps(), 2);
    const Recording& last = session_.document().survey()->recordings.back();
    EXPECT_EQ(last.sensor, "s1");
    EXPECT_EQ(last.scale, 2.5);
    EXPECT_EQ(last.position, Position::bed);
    EXPECT_EQ(last.condition, "service");
    undo();
    EXPECT_THAT(text(), Eq(text_of_many));
}

} // namespace
} // namespace becalm::desktop::tests

// A first survey from a folder. Expected values are computed from the definition: the rules in new_survey.h.
#include <filesystem>
#include <vector>

#include <gmock/gmock.h>

#include "evaluators/new_survey.h"
#include "src/io/audio_writer.h"
#include "src/io/survey_file.h"

#include "tests/src/scratch_folder.h"

namespace becalm::evaluators {
namespace {

namespace fs = std::filesystem;

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using tests::ScratchFolder;
using tests::WithoutPrivileges;

void write_wav(const ScratchFolder& folder, const std::string& name, int channels,
               io::AudioCoding coding = io::AudioCoding::float32)
{
    fs::create_directories(fs::path(folder.path(name)).parent_path());
    const std::vector<double> silence(static_cast<std::size_t>(100 * channels));
    const auto written =
        io::write_audio(folder.path(name), {.rate_hz = 1000, .channels = channels, .coding = coding}, silence);
    ASSERT_TRUE(written) << to_text(written.error());
}

std::string csv(const std::string& header)
{
    std::string text = header + "\n";
    const auto columns = std::count(header.begin(), header.end(), ',') + 1;
    for (int i = 0; i < 50; ++i) {
        text += fmt::format("{:.3f}", 0.001 * i);
        for (std::ptrdiff_t c = 1; c < columns; ++c) text += fmt::format(",{}.5", (i * 7 + c) % 5);
        text += "\n";
    }
    return text;
}

// "x1 y2 z3" for the channels of a recording.
std::string axes_of(const Recording& recording)
{
    std::string text;
    for (const ChannelMapping& mapping : recording.channels)
        text += fmt::format("{}{}{}", text.empty() ? "" : " ", name_of(mapping.axis), mapping.channel);
    return text;
}

std::string complaint(const Results<NewSurvey>& result)
{
    if (result) return "no complaint";
    std::string text;
    for (const Problem& problem : result.error()) text += to_text(problem) + "\n";
    return text;
}

TEST(NewSurvey, FindsRecordingsUpToThreeLevelsBelowInTheOrderOfTheirNames)
{
    const ScratchFolder folder;
    write_wav(folder, "b.wav", 1);
    write_wav(folder, "a.wav", 1);
    write_wav(folder, "deck/cabin.wav", 1);
    write_wav(folder, "1/2/3/reached.wav", 1);
    write_wav(folder, "1/2/3/4/too-deep.wav", 1);
    write_wav(folder, ".becalm/cache.wav", 1);
    folder.file("notes.pdf", "no recording");
    const auto made = survey_from_folder(folder.path());
    ASSERT_TRUE(made) << complaint(made);
    std::vector<std::string> files;
    for (const Recording& recording : made->survey.recordings) files.push_back(recording.file);
    EXPECT_THAT(files, ElementsAre("1/2/3/reached.wav", "a.wav", "b.wav", "deck/cabin.wav"));
    EXPECT_THAT(made->problems, IsEmpty());
    EXPECT_EQ(made->survey.setting, Setting::building);
    ASSERT_EQ(made->survey.judges.size(), 1U);
    EXPECT_THAT(made->survey.judges[0].criteria, ElementsAre("iso2631-2-2003"));
}

TEST(NewSurvey, TakesTheFilesOfADescriptionThroughItAlone)
{
    const ScratchFolder folder;
    write_wav(folder, "1.wav", 1);
    write_wav(folder, "sub/2.wav", 1);
    write_wav(folder, "other.wav", 1);
    folder.file("deck.recording.toml", "[becalm-recording]\nfiles = [\"1.wav\", \"sub/2.wav\"]\n");
    const auto made = survey_from_folder(folder.path());
    ASSERT_TRUE(made) << complaint(made);
    std::vector<std::string> files;
    for (const Recording& recording : made->survey.recordings) files.push_back(recording.file);
    EXPECT_THAT(files, ElementsAre("deck.recording.toml", "other.wav"));
    EXPECT_EQ(made->survey.spaces.at(0).id, "deck");
}

TEST(NewSurvey, FollowsNoLinks)
{
    const ScratchFolder folder, elsewhere;
    write_wav(folder, "a.wav", 1);
    write_wav(elsewhere, "secret.wav", 1);
    fs::create_symlink(elsewhere.path("secret.wav"), folder.path("link.wav"));
    fs::create_directory_symlink(elsewhere.path(), folder.path("linked"));
    fs::create_directory_symlink(folder.path(), folder.path("circle"));
    const auto made = survey_from_folder(folder.path());
    ASSERT_TRUE(made) << complaint(made);
    ASSERT_EQ(made->survey.recordings.size(), 1U);
    EXPECT_EQ(made->survey.recordings[0].file, "a.wav");
    ASSERT_EQ(made->problems.size(), 1U);
    EXPECT_THAT(to_text(made->problems[0]), HasSubstr("link.wav: this is a symbolic link"));
}

struct NamedCase {
    const char* header; // the time column first
    const char* axes;
};

class ChannelNames : public testing::TestWithParam<NamedCase> {};

TEST_P(ChannelNames, TellTheAxes)
{
    const ScratchFolder folder;
    folder.file("a.csv", csv(GetParam().header));
    const auto made = survey_from_folder(folder.path());
    ASSERT_TRUE(made) << complaint(made);
    std::string axes;
    for (const Recording& recording : made->survey.recordings) axes += (axes.empty() ? "" : " | ") + axes_of(recording);
    EXPECT_EQ(axes, GetParam().axes);
}

INSTANTIATE_TEST_SUITE_P(
    NewSurvey, ChannelNames,
    testing::Values(NamedCase{"time,z,x,y", "z1 x2 y3"}, NamedCase{"time,Vert,Long,Lat", "z1 x2 y3"},
                    NamedCase{"t,acc_z [g],acc_y [g]", "z1 y2"}, NamedCase{"time,vertical", "z1"},
                    NamedCase{"time,x,y,tacho,z", "x1 y2 z4"}, NamedCase{"time,x,y,z,x,y,z", "x1 y2 z3 | x4 y5 z6"},
                    NamedCase{"time,roll,pitch,yaw", "rx1 ry2 rz3"}, NamedCase{"time,ch1,ch2,ch3", "x1 y2 z3"},
                    NamedCase{"time,ch1", "z1"}, NamedCase{"time,left,right", "z1 | z2"}));

TEST(NewSurvey, GuessesAxesByTheCountOfChannels)
{
    const ScratchFolder folder;
    write_wav(folder, "1.wav", 1);
    write_wav(folder, "3.wav", 3);
    write_wav(folder, "6.wav", 6);
    const auto made = survey_from_folder(folder.path());
    ASSERT_TRUE(made) << complaint(made);
    ASSERT_EQ(made->survey.recordings.size(), 4U);
    EXPECT_EQ(axes_of(made->survey.recordings[0]), "z1");
    EXPECT_EQ(axes_of(made->survey.recordings[1]), "x1 y2 z3");
    EXPECT_EQ(axes_of(made->survey.recordings[2]), "x1 y2 z3");
    EXPECT_EQ(axes_of(made->survey.recordings[3]), "x4 y5 z6");
    EXPECT_EQ(made->survey.recordings[2].space, "6-1");
    EXPECT_EQ(made->survey.recordings[3].space, "6-2");
    EXPECT_THAT(made->survey.recordings[1].comment, HasSubstr("axes guessed"));
}

TEST(NewSurvey, TakesTheUnitFromTheFile)
{
    const ScratchFolder folder;
    folder.file("a.csv", csv("time,z [mm/s]"));
    folder.file("b.csv", csv("time,z [m/s²]"));
    folder.file("c.csv", csv("time,z [V]"));
    folder.file("d.csv", csv("time,z"));
    const auto made = survey_from_folder(folder.path());
    ASSERT_TRUE(made) << complaint(made);
    const auto& recordings = made->survey.recordings;
    ASSERT_EQ(recordings.size(), 4U);
    EXPECT_EQ(recordings[0].unit, "mm/s");
    EXPECT_EQ(recordings[0].comment, "");
    EXPECT_EQ(recordings[1].unit, "m/s2");
    EXPECT_EQ(recordings[2].unit, "m/s2");
    EXPECT_THAT(recordings[2].comment, HasSubstr("the file states V"));
    EXPECT_EQ(recordings[3].comment, "unit guessed");
}

TEST(NewSurvey, LeavesTheScaleOfIntegersOpenAndSaysSo)
{
    const ScratchFolder folder;
    write_wav(folder, "a.wav", 1, io::AudioCoding::integer24);
    write_wav(folder, "b.wav", 1);
    const auto made = survey_from_folder(folder.path());
    ASSERT_TRUE(made) << complaint(made);
    EXPECT_FALSE(made->survey.recordings[0].scale);
    EXPECT_THAT(made->survey.recordings[0].comment, HasSubstr("add scale ="));
    EXPECT_THAT(made->survey.recordings[1].comment, testing::Not(HasSubstr("scale")));
}

TEST(NewSurvey, TakesSensorsScalesAndTitlesFromTheFiles)
{
    const ScratchFolder folder;
    const std::string of_sensor =
        "# sensor serial: A 17\n# sensitivity: 10,2 mV/(m/s2)\n# start: 2031-05-17T06:30:05Z\n";
    folder.file("a.csv", of_sensor + csv("time,z"));
    folder.file("b.csv", of_sensor + csv("time,x"));
    folder.file("c.csv", csv("time,z"));
    folder.file("run.bin", std::string(40, '\1'));
    folder.file("d.recording.toml", "[becalm-recording]\nfiles = [\"run.bin\"]\nnumbers = \"int16\"\nchannels = 2\n"
                                    "rate_hz = 1000\nunit = \"mm/s2\"\nscale = 0.5\n"
                                    "teds = \"11 00 48 40 04 39 30 00\"\n");
    const auto made = survey_from_folder(folder.path());
    ASSERT_TRUE(made) << complaint(made);
    const Survey& survey = made->survey;
    ASSERT_EQ(survey.sensors.size(), 2U);
    EXPECT_EQ(survey.sensors[0].id, "sn-a-17");
    EXPECT_EQ(survey.sensors[0].serial, "A 17");
    EXPECT_EQ(survey.sensors[0].sensitivity, 10.2);
    EXPECT_EQ(survey.sensors[0].sensitivity_unit, "mV/(m/s2)");
    EXPECT_EQ(survey.sensors[1].serial, "12345"); // of the data sheet; its bytes are explained in documents_test.cpp
    EXPECT_EQ(survey.sensors[1].teds, "11 00 48 40 04 39 30 00");
    EXPECT_EQ(survey.recordings[0].sensor, "sn-a-17");
    EXPECT_EQ(survey.recordings[0].start, "2031-05-17T06:30:05Z");
    EXPECT_EQ(survey.recordings[1].sensor, "sn-a-17");
    EXPECT_EQ(survey.recordings[2].sensor, "");
    EXPECT_EQ(survey.recordings[3].unit, "mm/s2");
    EXPECT_EQ(survey.recordings[3].scale, 0.5);
    EXPECT_THAT(survey.recordings[3].comment, testing::Not(HasSubstr("add scale")));
    const auto again = io::parse_survey(io::survey_as_toml(survey), "survey.toml");
    ASSERT_TRUE(again) << to_text(again.error().front());
    EXPECT_EQ(again->sensors.size(), 2U);

    // Volts beside a sensitivity.
    const ScratchFolder volts;
    volts.file("v.csv", "# rate_hz: 100\n# sensitivity: 98 mV/g\nz [mV]\n1.5\n2.5\n-1.5\n");
    const auto of_volts = survey_from_folder(volts.path());
    ASSERT_TRUE(of_volts) << complaint(of_volts);
    EXPECT_EQ(of_volts->survey.recordings[0].sensitivity, "98 mV/g");
    EXPECT_EQ(of_volts->survey.recordings[0].unit, "g");
    EXPECT_NEAR(of_volts->survey.recordings[0].scale.value_or(0.0), 1e-3 / 0.098, 1e-12); // 1 mV over 98 mV/g
    EXPECT_THAT(io::entry_as_toml(of_volts->survey.recordings[0]),
                HasSubstr("scale = 0.001\nsensitivity = \"98 mV/g\""));

    // Of a survey that is there already, sensors are named and none is made.
    Survey known;
    known.path = folder.path("survey.toml");
    known.sensors = {{.id = "deck", .serial = "A 17"}};
    const NewSurvey further = further_recordings(known, {folder.path("a.csv"), folder.path("d.recording.toml")});
    EXPECT_THAT(further.survey.sensors, IsEmpty());
    EXPECT_EQ(further.survey.recordings.at(0).sensor, "deck");
    EXPECT_EQ(further.survey.recordings.at(1).sensor, "");
}

TEST(NewSurvey, GivesEverySpaceAnIdOfItsOwn)
{
    const ScratchFolder folder;
    write_wav(folder, "Cabin  201 (aft).wav", 1);
    write_wav(folder, "cabin_201_aft.wav", 1);
    write_wav(folder, "deck 5/cabin 201 aft.wav", 1);
    write_wav(folder, "---.wav", 1);
    const auto made = survey_from_folder(folder.path());
    ASSERT_TRUE(made) << complaint(made);
    std::vector<std::string> ids, groups;
    for (const Space& space : made->survey.spaces) {
        ids.push_back(space.id);
        groups.push_back(space.group);
    }
    EXPECT_THAT(ids, ElementsAre("space", "cabin-201-aft", "cabin-201-aft-2", "deck-5-cabin-201-aft"));
    EXPECT_THAT(groups, ElementsAre("", "", "", "deck 5"));
}

TEST(NewSurvey, CanBeWrittenAndReadBackWithoutAFault)
{
    const ScratchFolder folder;
    write_wav(folder, "deck \"5\"/a.wav", 3, io::AudioCoding::integer24);
    write_wav(folder, "b.wav", 6);
    folder.file("Küche.csv", csv("time,vert [mm/s],tacho [V]"));
    const auto made = survey_from_folder(folder.path());
    ASSERT_TRUE(made) << complaint(made);
    const auto read = io::parse_survey(io::survey_as_toml(made->survey), "survey.toml");
    ASSERT_TRUE(read) << to_text(read.error().front());
    ASSERT_EQ(read->recordings.size(), made->survey.recordings.size());
    for (std::size_t i = 0; i < read->recordings.size(); ++i) {
        EXPECT_EQ(read->recordings[i].file, made->survey.recordings[i].file);
        EXPECT_EQ(read->recordings[i].space, made->survey.recordings[i].space);
        EXPECT_EQ(axes_of(read->recordings[i]), axes_of(made->survey.recordings[i]));
        EXPECT_TRUE(fs::exists(folder.path(read->recordings[i].file)));
    }
}

TEST(NewSurvey, NamesFilesThatCannotBeReadAndGoesOn)
{
    const ScratchFolder folder;
    write_wav(folder, "good.wav", 1);
    folder.file("broken.wav", "RIFF");
    folder.file("readme.txt", "Dear reader, these are no numbers.\n");
    const auto made = survey_from_folder(folder.path());
    ASSERT_TRUE(made) << complaint(made);
    EXPECT_EQ(made->survey.recordings.size(), 1U);
    ASSERT_EQ(made->problems.size(), 2U);
    EXPECT_EQ(made->problems[0].file, folder.path("broken.wav"));
    EXPECT_EQ(made->problems[1].file, folder.path("readme.txt"));
}

TEST(NewSurvey, RefusesAFolderWithoutRecordings)
{
    const ScratchFolder folder;
    EXPECT_THAT(complaint(survey_from_folder(folder.path())), HasSubstr("there is no recording in this folder"));
    folder.file("broken.wav", "RIFF");
    EXPECT_THAT(complaint(survey_from_folder(folder.path())), HasSubstr("broken.wav: the header is cut off"));
    EXPECT_THAT(complaint(survey_from_folder(folder.path("nowhere"))), HasSubstr("nowhere: there is no such folder"));
    EXPECT_THAT(complaint(survey_from_folder(folder.path("broken.wav"))), HasSubstr("broken.wav: this is no folder"));
}

TEST(NewSurvey, RefusesAFolderItMustNotRead)
{
    const ScratchFolder folder;
    write_wav(folder, "closed/a.wav", 1);
    fs::permissions(folder.path("closed"), fs::perms::none);
    {
        const WithoutPrivileges nobody;
        if (nobody.achieved()) {
            EXPECT_THAT(complaint(survey_from_folder(folder.path("closed"))),
                        HasSubstr("closed: the folder cannot be read"));
        }
    }
    fs::permissions(folder.path("closed"), fs::perms::all);
}

TEST(FurtherRecordings, AreNamedFromTheSurveysFolderAndKeepItsIds)
{
    const ScratchFolder folder;
    write_wav(folder, "job/a.wav", 3);
    write_wav(folder, "job/deck/a.wav", 1);
    write_wav(folder, "beside/b.wav", 3);
    Survey survey = survey_from_folder(folder.path("job"))->survey;
    survey.recordings.erase(survey.recordings.begin() + 1);
    const NewSurvey further =
        further_recordings(survey, {folder.path("job"), folder.path("beside/b.wav"), folder.path("gone.wav")});
    ASSERT_EQ(further.survey.recordings.size(), 2U);
    EXPECT_EQ(further.survey.recordings[0].file, "deck/a.wav");
    EXPECT_EQ(further.survey.recordings[1].file, "../beside/b.wav");
    ASSERT_EQ(further.survey.spaces.size(), 2U);
    EXPECT_EQ(survey.space(further.survey.spaces[0].id), nullptr) << "an id of its own";
    ASSERT_EQ(further.problems.size(), 2U);
    EXPECT_THAT(to_text(further.problems[0]), HasSubstr("in the survey already"));
    EXPECT_THAT(to_text(further.problems[1]), HasSubstr("gone.wav"));
    EXPECT_EQ(further.survey.setting, Survey().setting);
    EXPECT_TRUE(further.survey.judges.empty());
}

TEST(Guesses, AreFoundAgainInTheComment)
{
    const ScratchFolder folder;
    write_wav(folder, "a.wav", 3, io::AudioCoding::integer24);
    const Recording recording = survey_from_folder(folder.path(""))->survey.recordings.at(0);
    EXPECT_EQ(guesses_in(recording.comment), (Guesses{.axes = true, .unit = true, .scale_missing = true}));
    const std::string settled = without_guesses(recording.comment, {.axes = true});
    EXPECT_EQ(guesses_in(settled), (Guesses{.unit = true, .scale_missing = true}));
    EXPECT_EQ(without_guesses(recording.comment, {.axes = true, .unit = true, .scale_missing = true}), "");
}

TEST(Guesses, APersonsOwnWordsStay)
{
    const Guesses all{.axes = true, .unit = true, .scale_missing = true};
    EXPECT_EQ(without_guesses("door open; unit guessed; rain", all), "door open; rain");
    EXPECT_EQ(without_guesses(axis_guess(Axis::y), all), "");
    EXPECT_EQ(guesses_in("I guessed the unit"), Guesses{});
}

} // namespace
} // namespace becalm::evaluators

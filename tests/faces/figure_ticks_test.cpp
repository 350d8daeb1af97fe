// Ticks, words and places of labels: what holds for every range, and what a reader expects to see. Expected values are
// computed from the definition unless a line says otherwise.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <rapidcheck.h>
#include <set>

#include <gmock/gmock.h>

#include "ui/figures/labels.h"
#include "ui/figures/text.h"
#include "ui/figures/ticks.h"

namespace becalm::figures {
namespace {

using testing::Each;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

// Letters of 6 px: easy to reckon with.
double six_px(std::string_view text)
{
    double width = 0.0;
    for (const char c : text)
        if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) width += 6.0;
    return width;
}

const LabelRoom room{.extent = six_px, .gap_px = 6.0, .least_apart_px = 40.0};

AxisScale across(double from, double to, double length_px, bool logarithmic = false)
{
    return {.from = from, .to = to, .logarithmic = logarithmic, .px_from = 50.0, .px_to = 50.0 + length_px};
}

std::vector<std::string> labels_of(const Ticks& ticks)
{
    std::vector<std::string> labels;
    for (const TickMark& mark : ticks.marks)
        if (!mark.label.empty()) labels.push_back(mark.label);
    return labels;
}

// What every pattern promises. Empty: kept.
std::string broken_promise(const Ticks& ticks, const AxisScale& scale, const LabelRoom& with)
{
    double before = -std::numeric_limits<double>::infinity();
    double free_from = before;
    std::set<std::string> seen;
    const double direction = scale.px_to > scale.px_from ? 1.0 : -1.0;
    for (const TickMark& mark : ticks.marks) {
        if (!scale.holds(mark.value)) return "outside: " + mark.label;
        if (!(mark.value > before)) return "not rising: " + mark.label;
        before = mark.value;
        if (mark.label.empty()) continue;
        if (!seen.insert(mark.label).second) return "twice: " + mark.label;
        const double half = with.extent(mark.label) / 2.0, at = direction * scale.px(mark.value);
        if (at - half < free_from - 1e-9) return "overlap: " + mark.label;
        free_from = at + half + with.gap_px;
    }
    return "";
}

double any_magnitude(int least_exponent, int greatest_exponent)
{
    const double mantissa = 1.0 + *rc::gen::inRange(0, 9000) / 1000.0;
    return mantissa * std::pow(10.0, *rc::gen::inRange(least_exponent, greatest_exponent));
}

LabelRoom any_room()
{
    const double letter = *rc::gen::inRange(1, 40);
    return {.extent = [letter](std::string_view text) { return letter * six_px(text) / 6.0; },
            .gap_px = static_cast<double>(*rc::gen::inRange(0, 20)),
            .least_apart_px = static_cast<double>(*rc::gen::inRange(0, 100))};
}

AxisScale any_scale(bool logarithmic)
{
    AxisScale scale{.logarithmic = logarithmic};
    if (logarithmic) {
        scale.from = any_magnitude(-30, 30);
        scale.to = scale.from * (1.0 + any_magnitude(-3, 12));
    } else {
        const double span = any_magnitude(-12, 12);
        scale.from = *rc::gen::element(0.0, -0.5 * span, 3.3 * span, -712.25 * span);
        scale.to = scale.from + span;
    }
    scale.px_from = *rc::gen::inRange(0, 1000);
    scale.px_to = scale.px_from + *rc::gen::element(1.0, -1.0) * *rc::gen::inRange(1, 3000);
    return scale;
}

TEST(Ticks, OfALowPanelSayMoreThanOneNumberWhereTheyCan)
{
    // At 40 px apart it would be steps of 50, of which only 0 lies inside.
    const AxisScale scale{.from = -48.0, .to = 48.0, .px_from = 125.0, .px_to = 0.0};
    EXPECT_EQ(labels_of(linear_ticks(scale, {.unit = "dB"}, room)),
              (std::vector<std::string>{"−40", "−20", "0", "20", "40"}));
}

TEST(Ticks, OfAnyLinearRangeLieInsideApartAndTellApart)
{
    EXPECT_TRUE(rc::check([] {
        const AxisScale scale = any_scale(false);
        const LabelRoom with = any_room();
        const Numbers numbers{.unit = "m/s²",
                              .shown_per_unit = *rc::gen::element(1.0, 1e3, 9.80665, 1e6),
                              .form = *rc::gen::element(NumberForm::plain, NumberForm::plain, NumberForm::prefixed)};
        const Ticks ticks = linear_ticks(scale, numbers, with);
        // Four digits of a prefixed number cannot tell neighbours far from zero apart; plain ones can.
        std::string broken = broken_promise(ticks, scale, with);
        if (numbers.form == NumberForm::prefixed && broken.starts_with("twice")) broken.clear();
        RC_ASSERT(broken == std::string());
        RC_ASSERT(!labels_of(ticks).empty());
    }));
}

TEST(Ticks, OfAnyLogarithmicRangeLieInsideApartAndTellApart)
{
    EXPECT_TRUE(rc::check([] {
        const AxisScale scale = any_scale(true);
        const LabelRoom with = any_room();
        const Ticks ticks = logarithmic_ticks(scale, {.unit = "m"}, with);
        RC_ASSERT(broken_promise(ticks, scale, with) == std::string());
        RC_ASSERT(!labels_of(ticks).empty());
    }));
}

TEST(Ticks, OfAnyBandRangeLieInsideApartAndTellApart)
{
    EXPECT_TRUE(rc::check([] {
        const AxisScale scale = any_scale(true);
        const LabelRoom with = any_room();
        RC_ASSERT(broken_promise(third_octave_ticks(scale, with), scale, with) == std::string());
    }));
}

TEST(Ticks, OfAnyTimeLieInsideApartAndTellApart)
{
    EXPECT_TRUE(rc::check([] {
        AxisScale scale = any_scale(false);
        const double span = any_magnitude(-3, 8);
        scale.from = *rc::gen::element(0.0, 1.0, 1e4, -50.0, 3e5);
        scale.to = scale.from + span;
        const LabelRoom with = any_room();
        std::optional<std::chrono::local_seconds> start;
        if (*rc::gen::arbitrary<bool>())
            start = std::chrono::local_seconds{std::chrono::seconds{*rc::gen::inRange(1'600'000'000, 1'900'000'000)}};
        const Ticks ticks = time_ticks(scale, start, with);
        // Clock times and dates come round again after a day and a year.
        std::string broken = broken_promise(ticks, scale, with);
        if (start && broken.starts_with("twice") && span > 86'400.0) broken.clear();
        RC_ASSERT(broken == std::string());
        RC_ASSERT(!labels_of(ticks).empty());
    }));
}

TEST(Ticks, AreNoneWhereThereIsNoRange)
{
    const double nan = std::numeric_limits<double>::quiet_NaN(), inf = std::numeric_limits<double>::infinity();
    for (const auto& [from, to] :
         {std::pair{1.0, 1.0}, std::pair{2.0, 1.0}, std::pair{nan, 1.0}, std::pair{0.0, inf}}) {
        EXPECT_THAT(linear_ticks(across(from, to, 400.0), {}, room).marks, IsEmpty()) << from << " " << to;
        EXPECT_THAT(logarithmic_ticks(across(from, to, 400.0, true), {}, room).marks, IsEmpty());
        EXPECT_THAT(third_octave_ticks(across(from, to, 400.0, true), room).marks, IsEmpty());
        EXPECT_THAT(time_ticks(across(from, to, 400.0), {}, room).marks, IsEmpty());
    }
    EXPECT_THAT(logarithmic_ticks(across(-1.0, 1.0, 400.0, true), {}, room).marks, IsEmpty());
    EXPECT_THAT(linear_ticks(across(0.0, 1.0, 0.0), {}, room).marks, IsEmpty());
}

TEST(Ticks, StepByOneTwoOrFive)
{
    EXPECT_THAT(labels_of(linear_ticks(across(0.0, 10.0, 400.0), {}, room)),
                ElementsAre("0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10"));
    EXPECT_THAT(labels_of(linear_ticks(across(0.0, 10.0, 300.0), {}, room)),
                ElementsAre("0", "2", "4", "6", "8", "10"));
    EXPECT_THAT(labels_of(linear_ticks(across(-0.012, 0.012, 200.0), {}, room)), ElementsAre("−0.01", "0.00", "0.01"));
    EXPECT_THAT(labels_of(linear_ticks(across(0.0, 0.02, 160.0), {.unit = "mm/s²", .shown_per_unit = 1e3}, room)),
                ElementsAre("0", "5", "10", "15", "20"));
    EXPECT_THAT(labels_of(linear_ticks(across(0.0, 2e-6, 100.0), {}, room)), ElementsAre("0", "1×10⁻⁶", "2×10⁻⁶"));
}

TEST(Ticks, CarryPrefixesWhereTheAxisAsksForThem)
{
    const Numbers metres{.unit = "m", .form = NumberForm::prefixed};
    EXPECT_THAT(labels_of(logarithmic_ticks(across(1e-6, 1e-2, 400.0, true), metres, room)),
                ElementsAre("1 µm", "10 µm", "100 µm", "1 mm", "10 mm"));
    EXPECT_EQ(logarithmic_ticks(across(1e-6, 1e-2, 400.0, true), metres, room).unit, "");
    EXPECT_THAT(labels_of(linear_ticks(across(0.0, 0.0004, 200.0), metres, room)),
                ElementsAre("0 m", "100 µm", "200 µm", "300 µm", "400 µm"));
}

TEST(Ticks, LabelOneTwoFiveOfFewDecadesAndDecadesOfMany)
{
    EXPECT_THAT(labels_of(logarithmic_ticks(across(1.0, 80.0, 600.0, true), {}, room)),
                ElementsAre("1", "2", "5", "10", "20", "50"));
    EXPECT_THAT(labels_of(logarithmic_ticks(across(0.01, 1000.0, 200.0, true), {}, room)),
                ElementsAre("0.01", "0.1", "1", "10", "100", "1000"));
    EXPECT_THAT(labels_of(logarithmic_ticks(across(1e-9, 1e3, 150.0, true), {}, room)),
                ElementsAre("10⁻⁹", "10⁻⁶", "10⁻³", "10⁰", "10³"));
    // A range inside a decade.
    EXPECT_THAT(labels_of(logarithmic_ticks(across(3.0, 4.6, 300.0, true), {}, room)),
                ElementsAre("3.0", "3.5", "4.0", "4.5"));
}

TEST(Ticks, CallBandsByTheirNominalFrequency) // iec61260-1-2014, annex E, from memory
{
    EXPECT_THAT(labels_of(third_octave_ticks(across(0.9, 90.0, 900.0, true), room)),
                ElementsAre("1", "1.25", "1.6", "2", "2.5", "3.15", "4", "5", "6.3", "8", "10", "12.5", "16", "20",
                            "25", "31.5", "40", "50", "63", "80"));
    EXPECT_THAT(labels_of(third_octave_ticks(across(0.9, 90.0, 300.0, true), room)),
                ElementsAre("1", "2", "4", "8", "16", "31.5", "63"));
    EXPECT_THAT(labels_of(third_octave_ticks(across(0.9, 1100.0, 100.0, true), room)),
                ElementsAre("1", "10", "100", "1000"));
    const Ticks all = third_octave_ticks(across(0.9, 90.0, 300.0, true), room);
    EXPECT_EQ(all.marks.size(), 20U);
    EXPECT_NEAR(all.marks[3].value, std::pow(10.0, 0.3), 1e-12); // the mark itself is exact
}

TEST(Ticks, CountTimeInTheUnitThatSuits)
{
    const auto told = [](double from, double to, double length) {
        const Ticks ticks = time_ticks(across(from, to, length), {}, room);
        std::vector<std::string> all = labels_of(ticks);
        all.push_back("in " + ticks.unit);
        return all;
    };
    EXPECT_THAT(told(0.0, 0.4, 240.0), ElementsAre("0.0", "0.1", "0.2", "0.3", "0.4", "in s"));
    EXPECT_THAT(told(0.0, 120.0, 250.0), ElementsAre("0", "20", "40", "60", "80", "100", "120", "in s"));
    EXPECT_THAT(told(0.0, 600.0, 250.0), ElementsAre("0", "2", "4", "6", "8", "10", "in min"));
    EXPECT_THAT(told(200.0, 300.0, 200.0), ElementsAre("3:20", "3:40", "4:00", "4:20", "4:40", "5:00", "in min:s"));
    EXPECT_THAT(told(0.0, 86'400.0, 250.0), ElementsAre("0", "6", "12", "18", "24", "in h"));
    EXPECT_THAT(told(0.0, 14'400.0, 400.0),
                ElementsAre("0:00", "0:30", "1:00", "1:30", "2:00", "2:30", "3:00", "3:30", "4:00", "in h:min"));
    EXPECT_THAT(told(0.0, 7.0 * 86'400.0, 400.0), ElementsAre("0", "1", "2", "3", "4", "5", "6", "7", "in days"));
}

TEST(Ticks, TellClockTimesWhereAStartIsKnown)
{
    using namespace std::chrono;
    const local_seconds start = local_days{year{2026} / 5 / 12} + hours{22} + minutes{50};
    const auto told = [&](double to, double length) {
        return labels_of(time_ticks(across(0.0, to, length), start, room));
    };
    EXPECT_THAT(told(60.0, 300.0), ElementsAre("22:50:00", "22:50:20", "22:50:40", "22:51:00"));
    EXPECT_THAT(told(3600.0, 400.0), ElementsAre("22:50", "23:00", "23:10", "23:20", "23:30", "23:40", "23:50"));
    EXPECT_THAT(told(6.0 * 3600.0, 300.0), ElementsAre("23:00", "13 May", "01:00", "02:00", "03:00", "04:00"));
    EXPECT_THAT(told(0.4, 400.0), ElementsAre("22:50:00.0", "22:50:00.1", "22:50:00.2", "22:50:00.3", "22:50:00.4"));
    EXPECT_THAT(told(3.0 * 86'400.0, 400.0), ElementsAre("13 May", "12:00", "14 May", "12:00", "15 May", "12:00"));
}

TEST(AxisScale, GoesThereAndBack)
{
    EXPECT_TRUE(rc::check([](bool logarithmic) {
        const AxisScale scale = any_scale(logarithmic);
        for (const double part : {0.0, 0.25, 1.0}) {
            const double px = scale.px_from + part * (scale.px_to - scale.px_from);
            RC_ASSERT(std::abs(scale.px(scale.value(px)) - px) < 1e-6 * (1.0 + std::abs(px)));
        }
    }));
}

// ---- text

TEST(Text, SaysSiPrefixes)
{
    struct Row {
        double value;
        const char* unit;
        const char* text;
    };
    for (const Row& row : {Row{0.0123, "m/s²", "12.3 mm/s²"}, Row{2e-4, "m", "200 µm"}, Row{-1500.0, "Hz", "−1.5 kHz"},
                           Row{0.0, "m", "0 m"}, Row{999.96, "m", "1 km"}, Row{1e-15, "m", "0.001 pm"},
                           Row{1.0, "m", "1 m"}, Row{0.001, "m", "1 mm"}, Row{5.0, "", "5"}, Row{2e7, "", "20 M"}})
        EXPECT_EQ(with_si_prefix(row.value, row.unit), row.text) << row.value;
}

TEST(Text, WritesNumbersWithTheDigitsAskedFor)
{
    EXPECT_EQ(number_text(0.0123456), "0.0123");
    EXPECT_EQ(number_text(9.999), "10.0");
    EXPECT_EQ(number_text(-1234.5), "−1234");
    EXPECT_EQ(number_text(1.234e-7), "1.23×10⁻⁷");
    EXPECT_EQ(number_text(0.0), "0");
    EXPECT_EQ(number_text(std::numeric_limits<double>::quiet_NaN()), "–");
    EXPECT_EQ(decimal_text(-0.0001, 2), "0.00");
    EXPECT_EQ(counted(1, "value", "values"), "1 value");
    EXPECT_EQ(counted(0, "value", "values"), "0 values");
}

TEST(Text, WritesUnitsAsTheyArePrinted)
{
    EXPECT_EQ(pretty_unit("m/s2"), "m/s²");
    EXPECT_EQ(pretty_unit("mm/s2"), "mm/s²");
    EXPECT_EQ(pretty_unit("um/s"), "µm/s");
    EXPECT_EQ(pretty_unit("um"), "µm");
    EXPECT_EQ(pretty_unit("m/s^1.75"), "m/s¹·⁷⁵");
    EXPECT_EQ(pretty_unit("(m/s2)2/Hz"), "(m/s²)²/Hz");
    EXPECT_EQ(pretty_unit("%"), "%");
    EXPECT_EQ(pretty_unit(""), "");
    EXPECT_EQ(power_of_ten(-12), "10⁻¹²");
}

TEST(Text, IsCleanedOfWhatXmlCannotHold)
{
    EXPECT_EQ(cleaned("deck 3\n\taft\x01"), "deck 3  aft ");
    EXPECT_EQ(cleaned("M\xC3\xBCller \xE2\x82\xAC \xF0\x9F\x9A\xA2"), "M\xC3\xBCller \xE2\x82\xAC \xF0\x9F\x9A\xA2");
    EXPECT_EQ(cleaned("\xFFz\xC3"), "\xEF\xBF\xBDz\xEF\xBF\xBD");               // stray and cut short
    EXPECT_EQ(cleaned("\xC0\xAF"), "\xEF\xBF\xBD\xEF\xBF\xBD");                 // overlong
    EXPECT_EQ(cleaned("\xED\xA0\x80"), "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD"); // a surrogate
    EXPECT_EQ(cleaned("\xEF\xBF\xBF"), "\xEF\xBF\xBD");                         // U+FFFF
    EXPECT_EQ(cleaned("a\xE2\x80\xAE"
                      "b"),
              "ab"); // an override of direction
}

std::string any_text()
{
    static const std::vector<std::string> letters{"a",  "M", " ", " ",         "&", "<", "é", "Ж",    "船",
                                                  "室", "ש", "م", "e\xCC\x81", "🚢", "1", "²", "\xFF", "\xE2\x80\xAE",
                                                  "\n"};
    std::string text;
    for (int i = *rc::gen::inRange(0, 60); i > 0; --i) text += *rc::gen::elementOf(letters);
    return text;
}

TEST(Text, OfAnyKindIsWrappedAndShortenedToItsWidth)
{
    EXPECT_TRUE(rc::check([] {
        const Extent extent = [](std::string_view text) { return approximate_width(text, 11.0, false); };
        const std::string text = cleaned(any_text());
        const double width = *rc::gen::inRange(0, 300);
        const auto lines = static_cast<std::size_t>(*rc::gen::inRange(1, 5));
        const std::vector<std::string> wrap = wrapped(text, width, lines, extent);
        RC_ASSERT(wrap.size() <= lines);
        for (const std::string& line : wrap) {
            RC_ASSERT(extent(line) <= width);
            RC_ASSERT(cleaned(line) == line); // no letter is cut in two
        }
        const std::string brief = shortened(text, width, extent);
        RC_ASSERT(extent(brief) <= width);
        RC_ASSERT(cleaned(brief) == brief);
        if (extent(text) <= width) RC_ASSERT(brief == text);
    }));
}

TEST(Text, IsWrappedAtSpaces)
{
    EXPECT_THAT(wrapped("adverse comment possible", 100.0, 2, six_px), ElementsAre("adverse comment", "possible"));
    EXPECT_THAT(wrapped("adverse comment possible", 100.0, 1, six_px), ElementsAre("adverse comment…"));
    EXPECT_THAT(wrapped("incomprehensibility", 60.0, 3, six_px), ElementsAre("incomprehe", "nsibility"));
    EXPECT_THAT(wrapped("  ", 60.0, 3, six_px), IsEmpty());
    EXPECT_EQ(shortened("e\xCC\x81xyz", 18.0, six_px), "e\xCC\x81…");
    EXPECT_EQ(shortened("e\xCC\x81xyz", 12.0, six_px), ""); // a letter keeps its marks
}

TEST(Text, KeepsNumbersInPlaceBesideRightToLeftNames)
{
    EXPECT_EQ(isolated("blades"), "blades");
    EXPECT_EQ(isolated("מדחף"), "\xE2\x81\xA8מדחף\xE2\x81\xA9");
    EXPECT_EQ(approximate_width(isolated("מדחף"), 10.0, false), approximate_width("מדחף", 10.0, false));
}

// Advance widths of DejaVu Sans 2.37 and Liberation Sans 2.1 in thousandths, summed from their tables.
TEST(Text, IsMeasuredAtLeastAsWideAsInCommonFonts)
{
    struct Row {
        const char* text;
        double deja_vu, liberation;
    };
    for (const Row& row : {Row{"acceleration", 6160.0, 5392.0}, Row{"0123456789", 6360.0, 5560.0},
                           Row{"weighted acceleration, mm/s²", 14940.0, 13005.0}, Row{"Кабина", 3856.0, 3378.0},
                           Row{"Ärger über Öl", 6750.0, 6002.0}}) {
        EXPECT_GE(approximate_width(row.text, 1000.0, false), row.deja_vu) << row.text;
        EXPECT_GE(approximate_width(row.text, 1000.0, false), row.liberation) << row.text;
        EXPECT_LE(approximate_width(row.text, 1000.0, false), 1.2 * row.deja_vu) << row.text;
    }
}

// ---- labels

struct Interval {
    double from, to;
};

TEST(Flags, NeverOverlapAndNoMastCrossesWords)
{
    EXPECT_TRUE(rc::check([] {
        std::vector<Flag> flags;
        for (int i = *rc::gen::inRange(0, 20); i > 0; --i)
            flags.push_back(
                {static_cast<double>(*rc::gen::inRange(-20, 520)), static_cast<double>(*rc::gen::inRange(0, 150))});
        const int rows = *rc::gen::inRange(0, 9);
        const auto placed = placed_flags(flags, 0.0, 500.0, 4.0, rows);
        RC_ASSERT(placed.size() == flags.size());
        for (std::size_t i = 0; i < placed.size(); ++i) {
            if (!placed[i]) continue;
            const PlacedFlag& a = *placed[i];
            RC_ASSERT(a.row >= 0 && a.row < rows);
            RC_ASSERT(a.from_px >= 0.0 && a.to_px <= 500.0);
            RC_ASSERT(std::abs(a.to_px - a.from_px - flags[i].width_px) < 1e-9);
            for (std::size_t j = 0; j < placed.size(); ++j) {
                if (i == j || !placed[j]) continue;
                const PlacedFlag& b = *placed[j];
                if (a.row == b.row) RC_ASSERT(a.from_px >= b.to_px + 4.0 || b.from_px >= a.to_px + 4.0);
                const bool crossed = flags[j].at_px > a.from_px && flags[j].at_px < a.to_px;
                if (crossed) RC_ASSERT(b.row < a.row);
            }
        }
    }));
}

TEST(Flags, AreAllPlacedWhereThereIsARowForEach)
{
    EXPECT_TRUE(rc::check([] {
        std::vector<Flag> flags;
        for (int i = *rc::gen::inRange(0, 15); i > 0; --i)
            flags.push_back(
                {static_cast<double>(*rc::gen::inRange(0, 300)), static_cast<double>(*rc::gen::inRange(0, 180))});
        const auto placed = placed_flags(flags, 0.0, 500.0, 4.0, static_cast<int>(flags.size()) + 1);
        for (const auto& place : placed) RC_ASSERT(place.has_value());
    }));
}

TEST(Flags, FlyToTheLeftAtTheRightEnd)
{
    const std::vector<Flag> flags{{100.0, 60.0}, {480.0, 60.0}};
    const auto placed = placed_flags(flags, 0.0, 500.0, 4.0, 3);
    ASSERT_TRUE(placed[0] && placed[1]);
    EXPECT_FALSE(placed[0]->to_the_left);
    EXPECT_TRUE(placed[1]->to_the_left);
    EXPECT_EQ(placed[0]->row, 0);
    EXPECT_EQ(placed[1]->row, 0);
}

TEST(MarginLabels, KeepTheirOrderApartAndInside)
{
    EXPECT_TRUE(rc::check([] {
        std::vector<MarginLabel> labels;
        for (int i = *rc::gen::inRange(0, 20); i > 0; --i)
            labels.push_back(
                {static_cast<double>(*rc::gen::inRange(-50, 350)), static_cast<double>(*rc::gen::inRange(1, 40))});
        const auto centres = spread(labels, 0.0, 300.0);
        double total = 0.0;
        for (std::size_t i = 0; i < labels.size(); ++i) {
            total += labels[i].size_px;
            if (!centres[i]) continue;
            RC_ASSERT(*centres[i] - labels[i].size_px / 2.0 > -1e-6);
            RC_ASSERT(*centres[i] + labels[i].size_px / 2.0 < 300.0 + 1e-6);
            for (std::size_t j = 0; j < labels.size(); ++j) {
                if (i == j || !centres[j]) continue;
                RC_ASSERT(std::abs(*centres[i] - *centres[j]) > (labels[i].size_px + labels[j].size_px) / 2.0 - 1e-6);
                if (labels[i].centre_px < labels[j].centre_px) RC_ASSERT(*centres[i] < *centres[j]);
            }
        }
        if (total <= 300.0)
            for (const auto& centre : centres) RC_ASSERT(centre.has_value());
    }));
}

TEST(MarginLabels, StayWhereTheyWishToBeOrShareTheShift)
{
    const auto alone = spread(std::vector<MarginLabel>{{50.0, 10.0}, {200.0, 10.0}}, 0.0, 300.0);
    EXPECT_EQ(alone[0], 50.0);
    EXPECT_EQ(alone[1], 200.0);
    const auto together = spread(std::vector<MarginLabel>{{100.0, 10.0}, {100.0, 10.0}}, 0.0, 300.0);
    EXPECT_EQ(together[0], 95.0);
    EXPECT_EQ(together[1], 105.0);
}

} // namespace
} // namespace becalm::figures

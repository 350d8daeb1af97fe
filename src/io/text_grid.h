// Rows at irregular times put onto an even grid, as they come.
//
// Between two rows runs the cubic through both whose slopes are those of the parabolas through three neighbouring rows
// (at the ends: of the straight line). It goes through every row, looks at four of them, and keeps a straight line
// straight. It is no band limit: irregular samples have none in general. How far the record leaves open what lies
// between the rows is told by the difference to straight lines. Rows of one time are averaged. What is no finite number
// spoils the intervals whose cubic it enters.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace becalm::io {

class EvenGrid {
public:
    EvenGrid(std::size_t channels, double rate_hz);

    // Instants at i / rate from the first row to the last.
    static std::int64_t frames_in(double span_s, double rate_hz);

    void begin();                                            // anew, with the first row to come
    void add(double time_s, std::span<const double> values); // times never fall
    void end();                                              // after the last row

    // The values at the grid's instant `frame`, which must not fall; false where more rows (or end()) are wanted first.
    bool give(std::int64_t frame, std::span<double> values);

    // Of what was given since begin(): the r.m.s. difference between cubic and straight line, by the r.m.s. about the
    // mean; the greatest of the channels. 0 where nothing moves.
    double difference() const;

private:
    struct Point {
        double time_s = 0.0;
        double rows = 0.0; // averaged in it
        std::vector<double> values = {};
    };
    struct Sums {
        double count = 0.0, first = 0.0, sum = 0.0, squares = 0.0, differences = 0.0;
    };
    const Point& point(std::size_t i) const { return points_[(head_ + i) % points_.size()]; }
    Point& point(std::size_t i) { return points_[(head_ + i) % points_.size()]; }
    double slope(std::size_t i, std::size_t channel) const; // at point i

    double rate_hz_;
    std::array<Point, 5> points_ = {}; // the last may still be averaged
    std::size_t head_ = 0;
    std::size_t held_ = 0;
    std::size_t from_ = 0; // the interval points from_ to from_ + 1 is where the grid is
    double first_s_ = 0.0;
    bool ended_ = false;
    std::vector<Sums> sums_;
};

} // namespace becalm::io

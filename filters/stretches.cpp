#include "filters/stretches.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>

#include <Eigen/Dense>

#include "filters/lane_bank.h"
#include "filters/lane_kernel.h"

namespace becalm::filters {
namespace {

constexpr double forgotten = 1e-15; // of the greatest response of a state

AlignedBuffer in_every_slot(std::span<const double> values, std::size_t slots)
{
    AlignedBuffer spread(values.size() * slots);
    for (std::size_t i = 0; i < spread.size(); ++i) spread[i] = values[i / slots];
    return spread;
}

void take_coefficients(Stretches& stretches, const DigitalWeighting& weighting, std::size_t slots)
{
    std::vector<double> rho, residue, section;
    for (const RealPole& pole : weighting.poles) {
        rho.push_back(pole.rho);
        residue.push_back(pole.residue);
    }
    if (rho.size() % 2 != 0) { // the kernel runs them in pairs
        rho.push_back(0.0);
        residue.push_back(0.0);
    }
    for (const Section& s : weighting.sections) section.insert(section.end(), {s.b1 - s.a1, s.b2 - s.a2, s.a1, s.a2});
    stretches.taps = static_cast<int>(weighting.taps.size());
    stretches.poles = static_cast<int>(rho.size());
    stretches.sections = static_cast<int>(weighting.sections.size());
    stretches.states = rho.size() + 2 * weighting.sections.size();
    stretches.padded = (stretches.states + slots - 1) / slots * slots;
    stretches.tap = in_every_slot(weighting.taps, slots);
    stretches.rho = in_every_slot(rho, slots);
    stretches.residue = in_every_slot(residue, slots);
    stretches.section = in_every_slot(section, slots);
}

using Vector = Eigen::Matrix<long double, Eigen::Dynamic, 1>;
using Matrix = Eigen::Matrix<long double, Eigen::Dynamic, Eigen::Dynamic>;

// One row of the filter in long double: `x` comes in, `v` comes out of the taps, the states go on. An error here would
// be in every block alike, and the slow states would add it up.
void step(const Stretches& stretches, const DigitalWeighting& weighting, Vector& states, long double x, long double v)
{
    long double y = v;
    for (Eigen::Index k = 0; k < stretches.poles; ++k) {
        const bool real = static_cast<std::size_t>(k) < weighting.poles.size();
        const RealPole pole = real ? weighting.poles[static_cast<std::size_t>(k)] : RealPole{};
        states(k) = x - pole.rho * states(k);
        y += pole.residue * states(k);
    }
    Eigen::Index s = stretches.poles;
    for (const Section& section : weighting.sections) {
        const long double in = y, s1 = states(s);
        // as the kernel has it: with b - a rounded
        const double c1 = section.b1 - section.a1, c2 = section.b2 - section.a2;
        y = in + s1;
        states(s) = c1 * in + states(s + 1) - section.a1 * s1;
        states(s + 1) = c2 * in - section.a2 * s1;
        s += 2;
    }
}

// Column d + taps - 1: the states at the end after an impulse in row d.
Matrix responses(const Stretches& stretches, const DigitalWeighting& weighting)
{
    const auto taps = static_cast<Eigen::Index>(stretches.taps), length = static_cast<Eigen::Index>(stretches.length);
    const auto states = static_cast<Eigen::Index>(stretches.states);
    Matrix found(states, taps - 1 + length), behind_taps(states, taps);
    Vector now = Vector::Zero(states), behind = now;
    for (Eigen::Index i = 0; i < length; ++i) { // what row i leaves, an impulse that many rows before the end does
        const double tap = i < taps ? weighting.taps[static_cast<std::size_t>(i)] : 0.0;
        step(stretches, weighting, now, i == 0 ? 1.0 : 0.0, tap);
        step(stretches, weighting, behind, 0.0, i == 0 ? 1.0 : 0.0);
        found.col(taps - 1 + length - 1 - i) = now;
        if (length - 1 - i < taps) behind_taps.col(length - 1 - i) = behind;
    }
    for (Eigen::Index k = 1; k < taps; ++k) { // k rows before the first: only the taps know of it
        found.col(taps - 1 - k).setZero();
        for (Eigen::Index m = 0; m + k < taps; ++m)
            found.col(taps - 1 - k) += weighting.taps[static_cast<std::size_t>(m + k)] * behind_taps.col(m);
    }
    return found;
}

// From the states at the beginning to those at the end, without input.
Matrix carried(const Stretches& stretches, const DigitalWeighting& weighting)
{
    const auto states = static_cast<Eigen::Index>(stretches.states);
    Matrix square(states, states), power = Matrix::Identity(states, states);
    for (Eigen::Index s = 0; s < states; ++s) {
        Vector unit = Vector::Unit(states, s);
        step(stretches, weighting, unit, 0.0L, 0.0L);
        square.col(s) = unit;
    }
    for (std::size_t left = stretches.length; left > 0; left /= 2) {
        if (left % 2 != 0) power = square * power;
        if (left > 1) square = square * square;
    }
    return power;
}

Stretches::Piece piece_of(const Eigen::MatrixXd& all, const Eigen::VectorXd& size, Eigen::Index from, Eigen::Index rows,
                          std::ptrdiff_t history)
{
    Stretches::Piece piece{.from = from - history, .rows = static_cast<std::size_t>(rows)};
    const Eigen::MatrixXd part = all.middleCols(from, rows);
    const Eigen::MatrixXd scaled = size.cwiseInverse().asDiagonal() * part;
    const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(scaled.transpose());
    const Eigen::Index most = std::min(rows, all.rows());
    Eigen::Index rank = 0;
    while (rank < most && std::abs(qr.matrixQR()(rank, rank)) > forgotten) ++rank;
    Eigen::MatrixXd factors; // [rows][rank]
    if (rank == all.rows()) {
        factors = part.transpose();
    } else {
        factors = qr.householderQ() * Eigen::MatrixXd::Identity(rows, rank);
        const Eigen::MatrixXd upper =
            qr.matrixQR().topRows(rank).triangularView<Eigen::Upper>(); // [rank][states], permuted
        const Eigen::MatrixXd basis =
            size.asDiagonal() * (upper * qr.colsPermutation().transpose()).transpose(); // [states][rank]
        piece.basis = AlignedBuffer(static_cast<std::size_t>(basis.size()));
        for (Eigen::Index s = 0; s < basis.rows(); ++s)
            for (Eigen::Index k = 0; k < rank; ++k) piece.basis[static_cast<std::size_t>(s * rank + k)] = basis(s, k);
    }
    piece.rank = static_cast<std::size_t>(rank);
    piece.factors = AlignedBuffer(static_cast<std::size_t>(rows * rank));
    for (Eigen::Index i = 0; i < rows; ++i)
        for (Eigen::Index k = 0; k < rank; ++k) piece.factors[static_cast<std::size_t>(i * rank + k)] = factors(i, k);
    return piece;
}

Stretches found(const DigitalWeighting& weighting, std::size_t length)
{
    const FlushSubnormals flush;
    const auto slots = static_cast<std::size_t>(kernel::chosen().widest);
    Stretches stretches{.length = length};
    take_coefficients(stretches, weighting, slots);
    BECALM_ASSERT(stretches.states <= Stretches::most_states && stretches.taps >= 1 && length >= 64);
    if (stretches.states == 0) return stretches;

    // From the kernel's states to those of stretches, and back.
    const auto size_of_state = static_cast<Eigen::Index>(stretches.states);
    Matrix to_sums = Matrix::Identity(size_of_state, size_of_state), from_sums = to_sums;
    for (Eigen::Index s = stretches.poles; s < size_of_state; s += 2) {
        to_sums(s + 1, s) = 1.0L;
        from_sums(s + 1, s) = -1.0L;
    }
    const Matrix carry = to_sums * carried(stretches, weighting) * from_sums;
    stretches.carry = AlignedBuffer(stretches.states * stretches.padded);
    for (std::size_t k = 0; k < stretches.states; ++k)
        for (std::size_t s = 0; s < stretches.states; ++s)
            stretches.carry[k * stretches.padded + s] =
                static_cast<double>(carry(static_cast<Eigen::Index>(s), static_cast<Eigen::Index>(k)));

    const Eigen::MatrixXd all = Matrix(to_sums * responses(stretches, weighting)).cast<double>();
    const Eigen::VectorXd size = all.cwiseAbs().rowwise().maxCoeff().cwiseMax(1e-300);
    // What is forgotten is forgotten exponentially, so each piece reaches as far back as all before it.
    const auto history = static_cast<std::ptrdiff_t>(stretches.taps) - 1;
    Eigen::Index end = all.cols();
    for (Eigen::Index rows = 64, reach = 64; end > 0; rows = reach, reach *= 2) {
        const bool last = end - rows <= history || end - rows < 32;
        const Eigen::Index from = last ? 0 : end - rows;
        stretches.pieces.push_back(piece_of(all, size, from, end - from, history));
        end = from;
    }
    return stretches;
}

} // namespace

std::shared_ptr<const Stretches> stretches_of(const std::shared_ptr<const DigitalWeighting>& weighting,
                                              std::size_t length)
{
    static std::mutex mutex;
    static std::map<std::pair<std::shared_ptr<const DigitalWeighting>, std::size_t>, std::shared_ptr<const Stretches>>
        known;
    const std::lock_guard lock(mutex);
    auto& entry = known[{weighting, length}];
    if (!entry) entry = std::make_shared<const Stretches>(found(*weighting, length));
    return entry;
}

} // namespace becalm::filters

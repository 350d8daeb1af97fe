// The uncertainty of a value from a budget of named sources, by the GUM: standard, expanded (k = 2), and how sure it is
// that the value lies where it was put.
//
//   A value is the greatest of one or several candidates (the axes of which the highest governs, the positions). Each
//   candidate is v = v0 + sum c_j d_j: d_j is a source's deviation (mean 0, standard deviation 1), c_j = dv/dx_j u(x_j)
//   its standard contribution in the value's unit. A source that stands in several terms of a candidate adds up there
//   with its sign (one sensor's calibration is common to its axes), sources are independent of each other.
//       first order    u^2 = sum c_j^2, where one candidate stands clear of the others and every source is normal
//                      [jcgm100-2008, 5.1.2 and 5.2.2]
//       Monte Carlo    where candidates compete, or a source is a maximum (Gumbel distribution): the standard deviation
//                      of that many draws [jcgm101-2008, 7]. The seed is made of the budget's own numbers: the same
//                      measurement gives the same draws.
//   Levels (dB): contributions are of first order, 20 / ln 10 = 8.686 dB times the relative one.
//
// A standard deviation from few values is itself uncertain: sources with degrees of freedom, taken together by the
// Welch-Satterthwaite formula to f, count sqrt(f / (f - 2)) times, the standard deviation of the t-distribution that
// stands for them; f < 3 counts as 3, which is then too little [jcgm100-2008, G.4.1; jcgm101-2008, 6.4.9.4]. The
// expanded uncertainty is k = 2 times the standard one. Probabilities are those of a true value that is distributed
// about the measured one [jcgm106-2012, 7.2 and 7.3]: normally, or as the draws are.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "src/model/assessment.h"

namespace becalm::evaluators {

// What makes a source smaller.
enum class Shrinks { never, with_time, with_events, with_recordings };

struct UncertaintySource {
    std::string name = {};          // of its component
    std::string method = {};        // how its size is known
    std::optional<double> dof = {}; // empty: known for certain
    bool is_maximum = false;        // Gumbel, the tail towards smaller true values; else normal
    bool is_rectangular = false;    // between bounds
    Shrinks shrinks = Shrinks::never;
    double amount = 0.0; // what it was found from: seconds, events, recordings
};

struct Contribution {
    std::size_t source = 0; // of the budget
    double standard = 0.0;  // in the value's unit, signed
};

struct Candidate {
    double value = 0.0;
    std::vector<Contribution> contributions = {};
};

struct Budget {
    std::vector<UncertaintySource> sources = {};
    std::vector<Candidate> candidates = {}; // one at least
};

inline constexpr int usual_draws = 2000;

class Propagated {
public:
    // `draws` of a Monte Carlo; `always` takes it where the first order would do.
    explicit Propagated(const Budget& budget, int draws = usual_draws, bool always = false);

    double value() const { return value_; } // the greatest candidate
    double standard() const { return standard_; }
    const std::vector<UncertaintyComponent>& components() const { return components_; } // of that candidate
    const Budget& budget() const { return budget_; }
    bool is_monte_carlo() const { return !draws_.empty(); }
    const std::string& method() const { return method_; }

    double probability_of_at_least(double limit) const; // of a true value
    double quantile(double probability) const;          // of it; 0 < probability < 1

private:
    Budget budget_;
    double value_ = 0.0, standard_ = 0.0;
    std::vector<UncertaintyComponent> components_ = {};
    std::string method_ = {};
    std::vector<double> draws_ = {}; // empty where the first order does
};

} // namespace becalm::evaluators

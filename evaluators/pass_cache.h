// Passes that need not be run again: results of run_passes(), kept beside the survey (src/store/cache.h).
//
// Kept per content of a recording (SHA-256), and for what else its numbers depend on: the factor to SI units, the
// offset's rule, the span, the motion, the options of reading, whether rows are kept, the resolution of spectra, the
// engine. An entry holds the lanes, and spectra, motion bins and swings, worked out so far. A request whose lanes and
// reducers are all there is not run; where some are missing, only those are, and the entry grows (swings that are
// missing run their lane again). A lane's result does not depend on the lanes beside it
// (evaluators/pass.h), so what comes back is what run_passes() gives, to the last bit, in any case.
//
// Whose numbers come from an entry was either hashed now or is, by the file system's word, the file that was hashed
// before. A recording that changes while it is read is run again without the cache.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "evaluators/pass.h"
#include "src/store/cache.h"

namespace becalm::evaluators {

// What the entries of a cache are the work of: all sources and the compiler that pass results depend on, and the
// instruction set, since these agree to rounding only.
std::string engine_version();

// As run_passes(). Both callbacks of the options tell of the recordings that are run. The cache is to be one of
// engine_version().
std::vector<Result<PassResult>> run_passes_cached(std::span<const PassRequest> requests, const PassOptions& options,
                                                  store::Cache& cache);

// The bytes of an entry, and back: empty where they are damaged. They are read by the engine alone that wrote them.
std::string bytes_of(const PassResult& result);
std::optional<PassResult> pass_from(const std::optional<store::Blob>& blob);

// What became of the entries of a folder that was taken over.
struct MergedPasses {
    int taken = 0;    // there was none of this recording
    int added_to = 0; // there was one, which has more now
    int known = 0;    // there was one that has it all
    int damaged = 0;
    int of_other_engines = 0; // another version of the program, or another instruction set

    bool operator==(const MergedPasses&) const = default;
};

// Takes over what `from` holds into `into`, entry by entry, each checked as if it were to be used. Both caches are to
// be of engine_version(). Nothing of `into` is removed.
MergedPasses merge_passes(store::Cache& from, store::Cache& into);

} // namespace becalm::evaluators

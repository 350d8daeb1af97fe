#include "src/base/nearest.h"

#include <algorithm>
#include <vector>

namespace becalm {
namespace {

// No name of ours is longer; a longer word is not a slip of the pen, and the cost grows with the product of lengths.
constexpr std::size_t longest_compared = 100;

} // namespace

std::size_t edit_distance(std::string_view a, std::string_view b)
{
    std::vector<std::size_t> before_last(b.size() + 1);
    std::vector<std::size_t> last(b.size() + 1);
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, replaced});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = std::min(row[j], before_last[j - 2] + 1);
        }
        std::swap(before_last, last);
        std::swap(last, row);
    }
    return last[b.size()];
}

std::string nearest_name(std::string_view word, std::span<const std::string> known)
{
    if (word.size() > longest_compared) return {};
    std::size_t best = std::max<std::size_t>(1, word.size() / 3) + 1;
    std::string found;
    for (const std::string& name : known) {
        if (name.size() > longest_compared) continue;
        const std::size_t distance = edit_distance(word, name);
        if (distance < best && distance < std::max(word.size(), name.size())) {
            best = distance;
            found = name;
        }
    }
    return found;
}

} // namespace becalm

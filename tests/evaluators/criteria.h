// The criteria that the program ships.
#pragma once

#include <string>

#include <gtest/gtest.h>

#include "src/io/criterion_file.h"

namespace becalm::evaluators::tests {

inline const io::CriteriaLibrary& shipped_library()
{
    static const io::CriteriaLibrary library = [] {
        const std::string data = std::string(BECALM_PROJECT) + "/data";
        const auto bibliography = io::read_sources(data + "/sources.toml");
        EXPECT_TRUE(bibliography.has_value());
        return io::load_criteria({data + "/criteria"}, bibliography.value_or(io::Bibliography{}));
    }();
    return library;
}

inline const Criterion& shipped(const std::string& id) { return shipped_library().criteria.at(id); }

} // namespace becalm::evaluators::tests

// The inner loops of every instruction set that this processor has.
#pragma once

#include <vector>

#include "filters/lane_kernel.h"

namespace becalm::filters::tests {

inline std::vector<const kernel::Table*> kernels_of_this_processor()
{
    std::vector<const kernel::Table*> tables{&kernel::baseline};
#if defined(BECALM_X86_KERNELS)
    __builtin_cpu_init();
    if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) {
        tables.push_back(&kernel::avx2);
        if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
            __builtin_cpu_supports("avx512vl"))
            tables.push_back(&kernel::avx512);
    }
#endif
    return tables;
}

} // namespace becalm::filters::tests

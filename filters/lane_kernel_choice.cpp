#include <cstdlib>
#include <string_view>

#include "filters/lane_kernel.h"

namespace becalm::filters::kernel {
namespace {

const Table& choose()
{
    const char* wish = std::getenv("BECALM_KERNEL");
    const std::string_view asked = wish != nullptr ? wish : "";
    if (asked == "baseline") return baseline;
#if defined(BECALM_X86_KERNELS)
    __builtin_cpu_init();
    const bool has_avx2 = __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma");
    if (has_avx2 && asked == "avx2") return avx2;
    if (has_avx2 && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
        __builtin_cpu_supports("avx512vl"))
        return avx512;
    if (has_avx2) return avx2;
#endif
    return baseline;
}

} // namespace

const Table& chosen()
{
    static const Table& table = choose();
    return table;
}

} // namespace becalm::filters::kernel

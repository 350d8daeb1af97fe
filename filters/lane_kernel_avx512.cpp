#define BECALM_KERNEL_NAME avx512
#define BECALM_KERNEL_TEXT "avx512"
#include "filters/lane_kernel.inc"

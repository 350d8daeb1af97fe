#define BECALM_KERNEL_NAME avx2
#define BECALM_KERNEL_TEXT "avx2"
#include "filters/lane_kernel.inc"

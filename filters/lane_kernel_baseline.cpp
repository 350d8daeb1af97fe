#define BECALM_KERNEL_NAME baseline
#define BECALM_KERNEL_TEXT "baseline"
#include "filters/lane_kernel.inc"

// Links every room through the installed package, and prints what the test looks for.
#include <cstdio>

#include "evaluators/assess.h"
#include "src/base/units.h"
#include "src/io/file_hash.h"

int main()
{
    const auto unit = becalm::unit_named("g");
    if (!unit) return 1;
    // SHA-256 pulls in a private dependency of becalm::src (libcrypto), which the package has to name.
    std::printf("g is %.5f m/s2; %s\n", unit->to_si, becalm::io::sha256_of_text("abc").c_str());
    return 0;
}

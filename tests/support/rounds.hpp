// How many rounds a random test takes.
#pragma once

namespace standproud::testing {

/// All rounds in an ordinary build. Under the sanitizers, which look for another kind of fault and are many times
/// slower, the first ones of the same seed.
constexpr int rounds(int all, int under_sanitizers) {
#ifdef STANDPROUD_SANITIZED
    return under_sanitizers < all ? under_sanitizers : all;
#else
    return under_sanitizers > all ? under_sanitizers : all;
#endif
}

}  // namespace standproud::testing

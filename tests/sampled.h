// SPDX-License-Identifier: MIT
#pragma once

/// Under the sanitizers code runs some ten times slower, and what they look for (memory, undefined behavior)
/// does not hang on a count of successes: tests that measure over many cases there see every n-th of them, of
/// all kinds.
namespace loopmend {

#if defined(__SANITIZE_ADDRESS__)
inline constexpr bool kSanitized = true;
#else
inline constexpr bool kSanitized = false;
#endif

/// n cases, or an eighth of them under the sanitizers (at least one).
constexpr int sampled(int n) {
    return kSanitized ? (n + 7) / 8 : n;
}

/// Whether the i-th case is one of those.
constexpr bool isSampled(int i) {
    return !kSanitized || i % 8 == 0;
}

}  // namespace loopmend

// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

#include <cstdint>
#include <functional>
#include <vector>

namespace loopmend {

/// What a misprint costs, in tenths of the commonest one: the dearer, the less often it happens. Printers and
/// those who copy slip as they slip with any text (common practice): one sign is taken for another that is
/// like it or stands next to it; a word is set twice; a word is lost, most easily a short one; two change
/// places; a bracket or a star closes at the wrong word. Whoever wrote the row miscounts by one.
namespace misprint_price {
inline constexpr int kOtherReading = 5;  ///< nothing is misprinted: the words can be read in two ways
inline constexpr int kDoubled = 8;       ///< a word set twice
inline constexpr int kByOne = 10;        ///< a number one too many or too few
inline constexpr int kDigit = 12;        ///< another digit
inline constexpr int kDigitsMore = 15;   ///< a digit lost or set twice (1 and 11)
inline constexpr int kLetter = 14;       ///< a word for another that differs in one letter (k2tog, k3tog)
inline constexpr int kWord = 18;         ///< a word for any other word of this pattern
inline constexpr int kUnlikeWord = 22;   ///< the same, if the two have next to nothing in common
inline constexpr int kNewWord = 6;       ///< more if the word stands nowhere in the pattern
inline constexpr int kToEnd = 11;        ///< `p1` for `p to end`
inline constexpr int kLost = 12;         ///< a word lost
inline constexpr int kBracket = 16;      ///< a bracket or a star one word too early or too late
inline constexpr int kBracketLost = 20;  ///< a bracket with its number lost
inline constexpr int kPutIn = 22;        ///< a word that belongs nowhere near
inline constexpr int kSwapped = 20;      ///< two words that changed places
}  // namespace misprint_price

/// The words that a misprint may have stood for: the stitches of the pattern, and the common ones that it has
/// not.
struct MisprintWords {
    std::vector<Item> stitches;  ///< one of each, plain knits and purls left out
    std::size_t own = 0;         ///< so many of them stand in the pattern

    explicit MisprintWords(const Pattern& pattern);
};

/// What came of a change that was tried.
enum class Tried : std::uint8_t {
    no,      ///< the stitches do not come out
    fits,    ///< they do
    enough,  ///< do not try any more
};

/// Every small change of the words of a row, one after another: `tried` is called with its price while the
/// row is changed, and says whether the stitches come out; then the row is put back as it was. Changes that
/// do the same to the number of stitches wherever in a list of words they are made (a word put in) are tried
/// in one place first. `ahead`: stitches on the needle before the row, to know how many a lost plain word
/// had.
void eachEdit(Row& row, std::int64_t ahead, const MisprintWords& words,
              const std::function<Tried(int price)>& tried);

}  // namespace loopmend

// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

namespace loopmend {

/// Words that books use in two ways, read as the rows want them. `*k1, p1; rep from * 4 times` is four in all
/// or four more; in `yo, k2tog twice` the yarn-over may be worked twice too; `k2, p2 to end` is a rib, or two
/// knits and then purls; a yarn brought forward before a purl or a slip is moved or is a yarn-over. parse()
/// has taken the usual reading of each; here the other one takes its place if with it the row, the count
/// printed behind it and the rows after it come out for longer. Which was taken, and why, goes to
/// Pattern::understood, once for each kind of words. Rows are believed to begin with the stitches that those
/// before them leave; where nobody knows these, the usual reading stays.
void settle(Pattern& pattern);

}  // namespace loopmend

// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

#include <string>
#include <string_view>
#include <vector>

namespace loopmend {

/// A pattern in its own language, one normal way of saying each thing. What is printed parses to the same
/// rows, in US and in UK words alike, as long as the pattern says only what can be read: stars, runs and
/// follows stand at the top of a row and take stitches; groups have two times or more and are not a lone
/// yarn-over; only operations printed with a number (`k5`, `sl2`, `k3 tbl`, `k2 below`) have `times` above 1.
std::string print(const Pattern& pattern, Terms terms = Terms::us);

/// `Row 1 (RS): k2, *yo, k2tog; rep from * to last 2 sts, k2. (61 sts)`
std::string printRow(const Row& row, Terms terms = Terms::us);
/// `k2, *yo, k2tog; rep from * to last 2 sts, k2`, or `as row 2`
std::string printBody(const Row& row, Terms terms = Terms::us);
std::string printItem(const Item& item, Terms terms = Terms::us);
/// One operation: `k1`, `yo twice`, `2/2 LC`, `bind off 3`.
std::string printStep(const Step& step, Terms terms = Terms::us);
/// Several, plain stitches counted together: `k3, p2, yo, yo`. With another yarn than the first one of
/// `yarns` (Script::yarns) they say so: `k3, with B k2, with A2 linked p4`.
std::string printSteps(const std::vector<Step>& steps, Terms terms = Terms::us,
                       std::string_view yarns = "ABCDEFGHIJKLMNOPQRSTUVWXYZ");

}  // namespace loopmend

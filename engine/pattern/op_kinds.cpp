// SPDX-License-Identifier: MIT
#include "pattern/op_kinds.h"

namespace loopmend {

bool purls(Op op) {
    switch (op) {
        case Op::purl:
        case Op::purlTbl:
        case Op::p2tog:
        case Op::p2togTbl:
        case Op::ssp:
        case Op::spp:
        case Op::p3tog:
        case Op::p3togTbl:
        case Op::sp2p:
        case Op::s2pp:
        case Op::purlBelow:
        case Op::purlWithFloat:
        case Op::purlDoubled:
        case Op::purlWithWrap:
        case Op::liftedRightPurl:
        case Op::liftedLeftPurl:
        case Op::m1PurlLeft:
        case Op::m1PurlRight:
        case Op::bindOffPurl: return true;
        default: return false;
    }
}

bool slips(Op op) {
    return op == Op::slipPurlwiseBack || op == Op::slipPurlwiseFront || op == Op::slipKnitwiseBack ||
           op == Op::slipKnitwiseFront;
}

bool takesMany(Op op) {
    return op == Op::bindOff || op == Op::bindOffPurl || op == Op::bindOffTogether || op == Op::hold;
}

}  // namespace loopmend

// SPDX-License-Identifier: MIT
// Words in a row that are no stitches: markers, and what is done when it ends.
#include "pattern/reader.h"

#include <utility>

namespace loopmend {

/// `Fasten off.`, `Break yarn and draw through.`: behind the stitches of a row nothing more is worked.
bool Reader::endWords() {
    const bool ends = takeSeq({"fasten", "off"}) ||
                      ((is("break") || is("cut")) && (isAny({"yarn", "wool", "thread"}, 1) || is("the", 1)));
    if (ends) at_ = limit_;
    return ends;
}

/// `k to end, removing markers as you come to them`: nothing that is worked.
bool Reader::mannerOfMarkers() {
    const std::size_t start = at_;
    if (takeAny({"removing", "slipping", "dropping"})) {
        takeAny({"the", "all", "both"});
        if (takeAny({"marker", "markers"})) {
            if (take("as")) {
                while (!done() && peek().kind == TokenKind::word) ++at_;
            }
            return true;
        }
    }
    at_ = start;
    return false;
}

bool Reader::marker(std::vector<Item>& out) {
    const std::size_t start = at_;
    const bool placed = takeAny({"pm"}) || takeSeq({"place", "marker"}) ||
                        takeSeq({"place", "a", "marker"}) || takeSeq({"place", "m"}) ||
                        takeSeq({"place", "mkr"}) || takeSeq({"replace", "marker"}) ||
                        takeSeq({"replace", "the", "marker"});
    const bool removed = !placed && (takeAny({"rm"}) || takeSeq({"remove", "marker"}) ||
                                     takeSeq({"remove", "the", "marker"}) || takeSeq({"remove", "m"}));
    const bool slipped = !placed && !removed &&
                         (takeAny({"sm", "slm"}) || takeSeq({"slip", "marker"}) || takeSeq({"sl", "m"}) ||
                          takeSeq({"sl", "marker"}) || takeSeq({"slip", "the", "marker"}));
    if (!placed && !slipped && !removed) return false;
    Item item;
    item.kind = ItemKind::marker;
    item.slipped = slipped;
    item.removed = removed;
    item.place = placeFrom(start);
    out.push_back(std::move(item));
    return true;
}

}  // namespace loopmend

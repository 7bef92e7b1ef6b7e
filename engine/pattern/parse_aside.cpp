// SPDX-License-Identifier: MIT
// Words in a row that are no stitches: markers, and what is done when it ends.
#include "pattern/markers.h"
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

/// `picking up wraps as you come to them`, `working ds as you come to them`.
bool Reader::mannerOfTurns() {
    const std::size_t start = at_;
    const bool picks = takeSeq({"picking", "up"}) || takeSeq({"hiding"}) || takeSeq({"closing"});
    if (picks || takeAny({"working", "knitting", "purling"})) {
        takeAny({"the", "all", "any"});
        takeAny({"the", "rem", "remaining", "other", "rest"});
        const bool wraps = takeAny({"wraps", "wrap", "wrapped"});
        const bool doubled = !wraps && (takeAny({"ds", "dss"}) ||
                                        (takeAny({"double", "doubled"}) && takeAny({"stitches", "sts"})));
        const bool gaps = !wraps && !doubled && picks && takeAny({"gaps", "gap"});
        if (wraps || doubled || gaps) {
            wrapsToo_ = wrapsToo_ || wraps;  // both strands of a doubled stitch are worked as one anyway
            while (!done() && !isAny({".", ";", "("})) ++at_;
            return true;
        }
    }
    at_ = start;
    return false;
}

/// `K to end, picking up wraps`: each wrapped stitch on the way is worked with its wrap.
void Reader::closeTurns(Row& row) {
    if (row.items.empty()) return;
    const Item run = row.items.back();
    const int wraps = wrapsAhead(out_);
    const bool knitted = run.step.op == Op::knit;
    if (run.kind != ItemKind::run || !(knitted || run.step.op == Op::purl) || run.until == Until::marker)
        return;
    row.items.pop_back();
    for (int i = 0; i < wraps; ++i) {
        Item to = run;
        to.until = Until::wrapped;
        to.last = 0;
        row.items.push_back(std::move(to));
        row.items.push_back(made(knitted ? Op::knitWithWrap : Op::purlWithWrap));
        row.items.back().place = run.place;
    }
    row.items.push_back(run);
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

// SPDX-License-Identifier: MIT
#include "tutor/question_cloth.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "fault/catalogue.h"

namespace loopmend {

namespace {

/// Faults, those first that are taken for what happened at the stitch.
std::vector<std::string_view> faultsFor(const Swatch& swatch, const Cell& cell, std::size_t from) {
    std::vector<std::string_view> ids;
    const auto add = [&](std::string_view id) {
        if (std::find(ids.begin(), ids.end(), id) == ids.end()) ids.push_back(id);
    };
    const std::vector<const Fault*> all = lessonFaults();
    const FoundFault* found = swatch.found();
    const bool here = found != nullptr && (found->row == cell.row || found->seenRow == cell.row);
    std::string_view itself;
    if (here) {
        if (const Fault* fault = findFault(found->id)) {
            itself = fault->id;
            for (const std::string& id : swatch.takenFor()) {
                if (const Fault* other = findFault(id)) add(other->id);
            }
        }
    }
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Fault* fault = all[(i + from) % all.size()];
        if (fault->id != itself) add(fault->id);
    }
    return ids;
}

}  // namespace

AskedCloth::AskedCloth(const Swatch& what, const Scene& where, const QuestionWanted& asked,
                       std::uint64_t seed)
    : swatch(what), scene(where), wanted(asked), dice(seed) {}

const Reading& AskedCloth::reading(Side side) const {
    if (side == scene.reading.side) return scene.reading;
    std::optional<Reading>& reading = readings_[static_cast<std::size_t>(side)];
    if (!reading)
        reading = readFrom(fabric(), side, scene.view.mirrored ? Knits::leftHanded : Knits::rightHanded);
    return *reading;
}

const Columns& AskedCloth::columns() const {
    if (!columns_) columns_.emplace(fabric(), reading(Side::right));
    return *columns_;
}

std::vector<LoopId> AskedCloth::stitches(std::string_view of) const {
    const std::string_view kind = of.empty() ? "plain" : of;
    std::vector<LoopId> loops;
    for (const ReadRow& row : reading(Side::right).rows) {
        if (row.row < 1) continue;
        for (const Cell& c : row.cells) {
            if (!fabric().has(c.loop) || !fabric().isLoop(c.loop)) continue;
            const bool over = c.symbol.sight == Sight::slipped;
            if (c.symbol.sight == Sight::rung || (!over && fabric().isLive(c.loop))) continue;
            if (kindOf(c.symbol) != kind) continue;
            if (std::find(loops.begin(), loops.end(), c.loop) == loops.end()) loops.push_back(c.loop);
        }
    }
    return loops;
}

LoopId AskedCloth::choose(std::vector<LoopId> loops) {
    const auto keep = [&](const auto& test) {
        std::vector<LoopId> kept;
        std::copy_if(loops.begin(), loops.end(), std::back_inserter(kept), test);
        return kept;
    };
    if (wanted.row > 0) {
        loops = keep([&](LoopId l) {
            const Cell* c = cell(l);
            return c != nullptr && c->row == wanted.row && (wanted.stitch == 0 || c->stitch == wanted.stitch);
        });
    } else {
        constexpr int kEdge = 2;
        std::vector<LoopId> inner = keep([&](LoopId l) {
            const Cell* c = cell(l);
            if (c == nullptr) return false;
            const ReadRow& row = reading(Side::right).rows[static_cast<std::size_t>(c->row)];
            return c->column > kEdge && c->column + kEdge <= static_cast<int>(row.cells.size());
        });
        if (!inner.empty()) loops = std::move(inner);
    }
    if (loops.empty()) return {};
    return loops[static_cast<std::size_t>(dice.below(static_cast<int>(loops.size())))];
}

void AskedCloth::otherwise(LoopId loop, const std::function<bool(const Otherwise&)>& visit) {
    const Cell* here = cell(loop);
    if (here == nullptr || here->row < 1 || here->stitch < 1) return;
    const Script script = swatch.scriptTo(swatch.rows(), 0);
    const auto from = static_cast<std::size_t>(dice.below(static_cast<int>(lessonFaults().size())));
    const Knits hands = scene.view.mirrored ? Knits::leftHanded : Knits::rightHanded;
    for (const std::string_view id : faultsFor(swatch, *here, from)) {
        const FaultPlace place{std::string(id), here->row, here->stitch, 0};
        const auto both = knitWith(script, swatch.setup(), {place}, After::byReading);
        if (!both) continue;
        const Fabric& fabric = *both->actual.fabric;
        const Reading right = readFrom(fabric, Side::right, hands);
        const Reading wrong = readFrom(fabric, Side::wrong, hands);
        const Cell* a = cellAt(right, here->row, here->stitch);
        const Cell* b = cellAt(wrong, here->row, here->stitch);
        if (a == nullptr || b == nullptr) continue;
        if (!visit({id, fabric, right, wrong, a, b})) return;
    }
}

std::string_view kindOf(const Symbol& s) {
    if (s.crossing != Lean::none) return "cable";
    if (s.tall > 0) return "slipped";
    switch (s.sight) {
        case Sight::hole: return "hole";
        case Sight::together:
            return s.bases == 2 && s.lean != Lean::wound ? "decrease" : s.bases == 3 ? "double-decrease" : "";
        case Sight::made: return "increase";
        case Sight::slipped: return "slipped";
        case Sight::stitch:
            if (s.sisters > 1) return s.sister > 1 ? "increase" : "";
            if (s.twist != 0) return "crossed";
            return s.feet == 0 && !s.chained && !s.boundOff && !s.split && s.bases == 1 ? "plain" : "";
        default: return "";
    }
}

std::string sightWords(const Symbol& s, Terms terms) {
    const bool v = s.face == Face::v;
    if (s.crossing != Lean::none)
        return s.crossesInFront ? "A stitch of a cable: it crosses in front"
                                : "A stitch of a cable: it crosses behind";
    switch (s.sight) {
        case Sight::hole: return "A yarn over: a hole with a strand over it";
        case Sight::together:
            if (s.bases > 2) {
                if (!v) return "A double decrease, seen from its purl side";
                return s.lean == Lean::upright ? "A double decrease, the middle stitch on top"
                       : s.lean == Lean::left  ? "A double decrease that leans left"
                                               : "A double decrease that leans right";
            }
            if (!v) return "Two stitches together, seen from the purl side";
            return s.lean == Lean::left ? "Two stitches together: it leans left"
                                        : "Two stitches together: it leans right";
        case Sight::made:
            return s.twist == 0 ? "A new stitch from the bar, with a small hole"
                                : "A new stitch from the bar, its foot crossed";
        case Sight::slipped: return "A slipped stitch: the yarn went past it";
        case Sight::rung: return "A bare strand: no stitch stands here";
        case Sight::tuck: return "Two heads under one stitch: it was worked in the stitch below";
        case Sight::castOn: return "A loop of the cast-on edge";
        case Sight::stitch:
            if (s.tall > 0)
                return v ? "A slipped stitch: a tall V over more than one row"
                         : "A slipped stitch: tall, over more than one row";
            if (s.sisters > 1) return "A second stitch out of the same base";
            if (s.twist != 0)
                return v ? "A twisted knit stitch: a V with crossed feet"
                         : "A twisted purl stitch: a bump with crossed feet";
            return v ? "A knit stitch: a V" : "A purl stitch: a bump";
        default: return capital(words(s, terms));
    }
}

PageMark litLoop(PageMarkKind kind, LoopId loop) {
    return litLoops(kind, {loop});
}

PageMark litLoops(PageMarkKind kind, std::vector<LoopId> loops) {
    PageMark mark;
    mark.kind = kind;
    mark.loops = std::move(loops);
    return mark;
}

PageMark litTargets(PageMarkKind kind, const std::vector<PointTarget>& targets) {
    PageMark mark;
    mark.kind = kind;
    const auto add = [](std::vector<EntryId>& list, EntryId e) {
        if (std::find(list.begin(), list.end(), e) == list.end()) list.push_back(e);
    };
    for (const PointTarget& t : targets) {
        if (t.thing == PointTarget::Thing::loop) add(mark.loops, t.entry);
        if (t.thing == PointTarget::Thing::rung) add(mark.rungs, t.entry);
        if (t.thing == PointTarget::Thing::strand) add(mark.strands, t.entry);
    }
    return mark;
}

PageMark litAround(const AskedCloth& cloth, LoopId loop) {
    constexpr int kReach = 3;
    PageMark mark;
    mark.kind = PageMarkKind::look;
    const StitchPlaces& places = cloth.scene.places;
    const StitchPlace at = places.of(loop);
    for (int row = std::max(0, at.row - kReach); row <= std::min(places.lastRow(), at.row + kReach); ++row) {
        for (const LoopId l : places.rows()[static_cast<std::size_t>(row)]) {
            if (std::abs(places.of(l).column - at.column) <= kReach) mark.loops.push_back(l);
        }
    }
    return mark;
}

PointTarget targetOf(LoopId loop, PointTarget::Spot spot) {
    return {PointTarget::Thing::loop, loop, spot};
}

bool Answers::known(const Reply& reply) const {
    return std::any_of(replies_.begin(), replies_.end(), [&](const Reply& r) {
        return r.key == reply.key || r.text == reply.text || r.turned == reply.turned;
    });
}

Reply fixed(std::string key, const std::string& text) {
    return {std::move(key), text, text};
}

void Answers::right(const Reply& reply, std::string why) {
    answers_.push_back({reply.key, reply.text, true, std::move(why), {}});
    replies_.push_back(reply);
}

bool Answers::wrong(const Reply& reply, std::string why, std::string rightFor) {
    if (known(reply)) return false;
    answers_.push_back({reply.key, reply.text, false, std::move(why), std::move(rightFor)});
    replies_.push_back(reply);
    return true;
}

std::vector<QuestionAnswer> Answers::mixed(Seeded& dice, int most) {
    std::vector<QuestionAnswer> all = answers_;
    if (static_cast<int>(all.size()) > most + 1) all.resize(static_cast<std::size_t>(most) + 1);
    for (std::size_t i = all.size(); i > 1; --i)
        std::swap(all[i - 1], all[static_cast<std::size_t>(dice.below(static_cast<int>(i)))]);
    return all;
}

void tempt(Question& q, const PointTarget& target, std::string why, std::string rightFor) {
    constexpr std::size_t kMost = 8;
    if (q.tempting.size() >= kMost) return;
    for (const std::vector<PointTarget>& list : q.targets) {
        for (const PointTarget& t : list) {
            const bool same = t.thing == target.thing && t.entry == target.entry &&
                              (t.spot == target.spot || t.spot == PointTarget::Spot::whole ||
                               target.spot == PointTarget::Spot::whole);
            if (same) return;
        }
    }
    for (const TemptingTarget& t : q.tempting) {
        if (t.target == target) return;
    }
    q.tempting.push_back({target, std::move(why), std::move(rightFor)});
}

/// Stitches beside, below and above, that are easily taken for it.
void temptRound(AskedCloth& cloth, Question& q, LoopId loop, const std::string& why,
                const std::string& rightFor) {
    const StitchPlaces& places = cloth.scene.places;
    const StitchPlace at = places.of(loop);
    for (const auto& [up, across] : {std::pair{0, 1}, {0, -1}, {1, 0}, {-1, 0}}) {
        const int row = at.row + up;
        if (row < 0 || row > places.lastRow()) continue;
        for (const LoopId l : places.rows()[static_cast<std::size_t>(row)]) {
            if (places.of(l).column == at.column + across) tempt(q, targetOf(l), why, rightFor);
        }
    }
}

Asked cannotAsk(std::string words) {
    return tl::unexpected<std::string>(std::move(words));
}

Question finished(Question q, const AskedCloth& cloth, LoopId about, std::vector<std::string> hints) {
    q.kind = cloth.wanted.kind;
    for (QuestionAnswer& answer : q.answers) {
        answer.text = spelled(std::move(answer.text), cloth.terms());
        answer.why = spelled(std::move(answer.why), cloth.terms());
    }
    q.words = spelled(std::move(q.words), cloth.terms());
    for (std::string& hint : hints) hint = spelled(std::move(hint), cloth.terms());
    q.hints = std::move(hints);
    if (q.lights.empty()) {
        q.lights.resize(4);
        if (about) {
            for (std::size_t rung = 0; rung < 3; ++rung) q.lights[rung] = {litAround(cloth, about)};
        }
        for (const std::vector<PointTarget>& targets : q.targets)
            q.lights[3].push_back(litTargets(PageMarkKind::next, targets));
    }
    return q;
}

}  // namespace loopmend

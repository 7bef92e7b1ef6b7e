// SPDX-License-Identifier: MIT
#include "shape/layout.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "shape/layout_springs.h"
#include "shape/layout_ties.h"
#include "shape/plumb.h"
#include "shape/ridges.h"

namespace loopmend {

namespace {

std::size_t at(EntryId e) {
    return static_cast<std::size_t>(e.value);
}

/// A strand that goes by costs a little less height than a row: the slipped loop is drawn up.
constexpr double kSlipRise = 0.85;
constexpr double kCaught = 0.1;
/// A row above which columns change places is drawn higher, so that the strands can be followed.
constexpr double kCrossingRise = 1.7;
constexpr double kBesideCrossingRise = 1.15;
/// Loops that are worked together draw close; a loop without hosts stands open.
constexpr double kTogether = 0.92;
constexpr double kOpen = 1.2;
/// Loops drawn through one host stand so close, in stitch widths.
constexpr double kCrowd = 0.7;
constexpr double kRungWidth = 1.05;
/// Where stitches are cast on through a loop of a row its legs are so much longer, and the first of them
/// stands so much higher than it, in rows.
constexpr double kCastOnRoom = 0.6;
/// Round the corner where a row goes on from a picked-up section a stitch stands so much farther off.
constexpr double kCorner = 1.35;
constexpr double kCastOnStep = 0.9;
/// A chain that goes down by more rows than so is not drawn up by what follows it.
constexpr double kDrop = 1.2;
constexpr double kSteepChain = 0.9;
/// A row that climbs more than so (the cosine of its slope), or more than so at its end, is none: the
/// neighbours stand in rows of other heights.
constexpr double kSteepRow = 0.5;
constexpr double kSteepEnd = 0.8;
/// A leaning loop is a little longer than an upright one: the rest shows as a slope of its row.
constexpr double kLeanShare = 0.7;
/// Rows that so many levels of strands take up: a slipped stitch draws its column up, once and again, but one
/// that is slipped in row after row does not fold the piece.
double slipRise(double levels) {
    return kSlipRise * std::min(levels, 2.0) + std::max(0.0, levels - 2);
}

class Net {
  public:
    Net(const Fabric& fabric, const LayoutOptions& options)
        : f_(fabric), ties_(fabric, out_.columns), springs_(fabric, out_, kept_, crossed_) {
        out_.gauge = options.gauge;
        out_.columns = columnsOf(fabric, rowsOf(fabric));
        out_.nodes.resize(static_cast<std::size_t>(fabric.entryCount()));
        w_ = options.gauge.stitchMm;
        h_ = options.gauge.rowMm;
        anchor_.resize(out_.nodes.size());
        crossed_.assign(out_.nodes.size(), false);
        besideCrossed_.assign(out_.nodes.size(), false);
        turned_.assign(out_.nodes.size(), false);
        overTower_.assign(out_.nodes.size(), false);
        laidOver_.assign(out_.nodes.size(), false);
        kept_.assign(out_.nodes.size(), false);
        for (std::size_t i = 0; i < out_.columns.over.size(); ++i) {
            // A float that is caught hangs where the stitch does and takes up no height.
            const LoopId under = out_.columns.over[i];
            const EntryId over{static_cast<std::int32_t>(i)};
            if (under && out_.row(under) != out_.row(over)) laidOver_[at(under)] = true;
        }
        for (const SweptRow& row : out_.columns.rows) {
            for (const Beside& s : row.swapped) {
                crossed_[at(s.right)] = true;
                crossed_[at(s.left)] = true;
            }
            if (row.swapped.empty()) continue;
            for (const EntryId e : row.entries) besideCrossed_[at(e)] = true;
        }
    }

    /// Everything that stands as it did keeps its frame.
    void keep(const Layout& before, const std::vector<EntryId>& changed) {
        before_ = &before;
        const ColumnGrid& was = before.columns;
        const ColumnGrid& is = out_.columns;
        const std::size_t n = std::min(before.nodes.size(), out_.nodes.size());
        for (std::size_t i = 0; i < n; ++i) {
            kept_[i] =
                before.nodes[i].placed && was.ofRow[i] == is.ofRow[i] && was.height[i] == is.height[i] &&
                was.slips[i] == is.slips[i] && was.over[i] == is.over[i] && was.tied[i] == is.tied[i] &&
                was.begins[i] == is.begins[i] && was.joins[i] == is.joins[i] && was.copies[i] == is.copies[i];
        }
        for (const EntryId e : changed) {
            if (e && at(e) < n) kept_[at(e)] = false;
        }
    }

    /// `close`: rows of garter are closed up.
    Layout run(int sweeps, bool close) {
        for (const SweptRow& row : out_.columns.rows) placeRow(row);
        straighten();
        addSprings();
        springs_.relax(sweeps);
        orient();
        tie();
        if (close) out_.squeeze = closedRidges(f_, out_);
        out_.fold = Fold::of(f_, out_);
        out_.winding = Winding::of(f_, out_);
        return std::move(out_);
    }

    Layout runNear() {
        out_.squeeze = before_->squeeze;
        for (const SweptRow& row : out_.columns.rows) placeRow(row);
        addSprings();
        springs_.relaxNear(120);
        orient();
        tie();
        // The line stays where it is as long as anything is folded.
        out_.fold = Fold::of(f_, out_);
        if (!out_.fold.empty() && !before_->fold.empty()) out_.fold = before_->fold;
        out_.winding = Winding::of(f_, out_);
        if (before_->winding.servesFor(out_.winding)) out_.winding = before_->winding;
        return std::move(out_);
    }

  private:
    Layout::Node& node(EntryId e) { return out_.nodes[at(e)]; }
    bool placed(EntryId e) const { return out_.nodes[at(e)].placed; }
    bool kept(EntryId e) const { return kept_[at(e)]; }

    double spacing(const Beside& b) const { return spacing(b.right, b.left) + b.gap * w_; }

    /// Around a loop that was lifted out of a strand no yarn is left: its neighbours stay close.
    double spacing(EntryId right, EntryId left) const {
        // Picked up along an edge, they stand as far apart as what they were drawn under.
        if (out_.columns.begins[at(right)] && out_.columns.begins[at(left)]) {
            const Frame& a = out_[f_[f_[right].firstLink].host].frame;
            const Frame& b = out_[f_[f_[left].firstLink].host].frame;
            return std::clamp(length(a.at - b.at), 0.8 * w_, 1.6 * w_);
        }
        double share = 1;
        for (const auto& [first, second] : {std::pair{right, left}, std::pair{left, right}}) {
            if (!f_.isLoop(first) || f_[first].next != second || f_.run(first) != f_.run(second)) continue;
            const double ordinary = f_[f_[first].yarn].strandUm;
            const bool free = !f_[first].firstLink || (f_.isLoop(second) && !f_[second].firstLink);
            if (free && ordinary > 0 && f_[first].flags.anchored == 0)
                share = std::clamp(0.5 + 0.5 * f_[first].strandUm / ordinary, 0.68, 1.0) * kOpen;
        }
        if (turned_[at(right)] || turned_[at(left)]) share *= kCorner;
        if (together(right, left)) share *= kTogether;
        const bool gap = !f_.isLoop(right) || !f_.isLoop(left);
        return w_ * share * (gap ? kRungWidth : 1.0);
    }

    bool together(EntryId a, EntryId b) const {
        if (!f_.isLoop(a) || !f_.isLoop(b) || !f_[a].firstKid || !f_[b].firstKid) return false;
        return f_[f_[a].lastKid].loop == f_[f_[b].firstKid].loop ||
               f_[f_[b].lastKid].loop == f_[f_[a].firstKid].loop;
    }

    /// Of a picked-up loop: the edge that it was drawn under lies over its legs.
    double levelsOfEdge(LoopId loop) const {
        const LinkId link = f_[loop].firstLink;
        if (!link || f_[link].form.part == Part::opening) return 0;
        const bool atSide = std::abs(dot(out_[loop].frame.up, out_[f_[link].host].frame.right)) > 0.7;
        return atSide ? 1.8 : 0.8;
    }

    /// Strands and loops that lie over a loop before something goes through it.
    double levelsAbove(LoopId host) const {
        double levels = slipRise(out_.columns.slips[at(host)]) / kSlipRise + levelsOfEdge(host);
        if (laidOver_[at(host)]) levels += 1;
        if (ties_.beginsCastOn(host)) levels += kCastOnRoom / kSlipRise;
        int wound = 0;
        for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost)
            wound = std::max(wound, std::abs(int{f_[k].form.twist}) - 1);
        levels += kWindRise / kSlipRise * wound;
        for (LinkId l = f_[host].firstLink; l && !out_.columns.besideHost[at(host)]; l = f_[l].nextInLoop) {
            if (ties_.chained(host, f_[l].host)) return levels + kChainRise / kSlipRise;
        }
        return levels;
    }

    double rise(LoopId loop, LoopId host) const {
        const double slips = levelsAbove(host);
        const double wider = crossed_[at(host)]         ? kCrossingRise
                             : besideCrossed_[at(host)] ? kBesideCrossingRise
                                                        : 1.0;
        return h_ * (wider + kSlipRise * slips) * (f_.linkCount(loop) > 1 ? 1.05 : 1.0);
    }

    /// +1: picked up along a bound-off row, the new section goes up; -1: along a cast-on, it goes down; 0:
    /// along a side.
    double awayFromRow(LoopId loop) const {
        const auto hostOf = [&](EntryId e) {
            const bool picked = e && f_.isLoop(e) && f_[e].firstLink && out_.columns.begins[at(e)];
            return picked ? f_[f_[e].firstLink].host : LoopId{};
        };
        const LoopId host = hostOf(loop);
        bool along = false;
        for (const EntryId beside : {f_[loop].prev, f_[loop].next}) {
            const LoopId other = hostOf(beside);
            along = along || (other && other != host && out_.row(other) == out_.row(host));
        }
        if (!along) return 0;
        const auto lowest = [&](LoopId e) { return !f_[e].firstLink || out_.columns.besideHost[at(e)]; };
        bool castOn = lowest(host);
        for (LinkId l = f_[host].firstLink; l; l = f_[l].nextInLoop) {
            castOn = castOn || (!f_[f_[l].host].firstLink && f_[f_[l].host].flags.anchored != 0);
        }
        return castOn ? -1 : 1;
    }

    /// A loop drawn through a standing edge grows away from the piece.
    Frame frameAtEdge(LoopId loop) const {
        const Link& link = f_[f_[loop].firstLink];
        const Layout::Node& host = out_.nodes[at(link.host)];
        const Frame& frame = host.frame;
        bool rightEdge = !host.right;
        bool leftEdge = !host.left;
        if (const double away = awayFromRow(loop); away != 0) {
            const Point2 out = frame.up * away;
            const double off = away > 0 ? 0.5 * h_ : -0.25 * h_;
            // The legs of a chain lie over the gap to the next column.
            const double ahead = f_.run(link.host) == Run::leftward ? -0.5 : 0.5;
            const double aside = away > 0 ? ahead * w_ : 0;
            return Frame{frame.at + out * off + frame.right * aside, rightOf(out), out};
        }
        if (rightEdge && leftEdge) {
            rightEdge = link.form.part == Part::rightLeg;
            leftEdge = link.form.part == Part::leftLeg;
        }
        Point2 out = frame.up;
        if (rightEdge) out = frame.right;
        if (leftEdge) out = frame.right * -1;
        const Point2 middle = frame.at + frame.up * (0.1 * h_);
        const bool aside = rightEdge || leftEdge;
        return Frame{aside ? middle - out * (0.5 * w_) : middle, rightOf(out), out};
    }

    void placeRow(const SweptRow& row) {
        std::vector<EntryId> mine;
        bool allKept = true;
        for (const EntryId e : row.entries) {
            if (kept(e)) {
                node(e).frame = before_->nodes[at(e)].frame;
                node(e).placed = true;
                continue;
            }
            allKept = false;
            if (out_.columns.copies[at(e)]) continue;  // lies where the other does
            if (f_.isLoop(e)) {
                placeLoop(e);
                mine.push_back(e);
            } else if (!out_.columns.tied[at(e)]) {
                placePass(e);
            }
        }
        for (const Beside& b : row.beside) {
            // What stood there before keeps the neighbours of its own row.
            if (out_.row(b.right) == row.row) node(b.right).left = b.left;
            if (out_.row(b.left) == row.row) node(b.left).right = b.right;
        }
        placeBetween(row, mine);
        if (!allKept) spread(row);
        for (const EntryId e : row.entries) anchor_[at(e)] = node(e).frame;
        for (const Beside& s : row.swapped) std::swap(anchor_[at(s.right)].at, anchor_[at(s.left)].at);
    }

    /// So much higher, in rows: what was wound there in a later row; a float that is caught hangs where the
    /// stitch stands.
    double liesOver(LoopId loop, LoopId under) const {
        return out_.row(loop) == out_.row(under) ? kCaught : kSlipRise;
    }

    void placeLoop(LoopId loop) {
        if (out_.columns.begins[at(loop)] && placed(f_[f_[loop].firstLink].host)) {
            node(loop).frame = frameAtEdge(loop);
            node(loop).placed = true;
            return;
        }
        if (const LoopId under = out_.columns.over[at(loop)]; under && placed(under)) {
            // Of its own row it is laid already, but nothing may stand on it yet.
            const Frame& from = out_.row(loop) == out_.row(under) ? node(under).frame : anchor_[at(under)];
            node(loop).frame = {from.at + from.up * (liesOver(loop, under) * h_), from.right, from.up};
            node(loop).placed = true;
            return;
        }
        Point2 sum;
        Point2 up;
        LoopId tower;
        int n = 0;
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            const LoopId host = f_[l].host;
            if (ties_.chained(loop, host) || ties_.behind(loop, host) || !placed(host)) continue;
            const Frame& from = anchor_[at(host)];
            double rises = rise(loop, host);
            if (out_.row(loop) - out_.row(host) > 1 && levelsAbove(host) == 0 && ties_.kidsAbove(host) > 1)
                rises = 2 * h_;  // into the stitch under the next one
            sum = sum + from.at + from.up * rises;
            up = up + from.up;
            if (standsAlone(host)) tower = host;
            ++n;
        }
        if (n == 0) return;
        const Point2 upward = unit(up);
        node(loop).frame = {sum * (1.0 / n), rightOf(upward), upward};
        if (tower && n > 1) {
            // Worked together with a stitch that waited below, it still stands over both.
            const double lacks = rise(loop, tower) - dot(node(loop).frame.at - anchor_[at(tower)].at, upward);
            overTower_[at(loop)] = lacks > 0.4 * h_;
            if (overTower_[at(loop)]) node(loop).frame.at = node(loop).frame.at + upward * lacks;
        }
        node(loop).placed = true;
        turnCorner(loop);
    }

    /// The only stitch of its row, worked there and back.
    bool standsAlone(LoopId host) const {
        const Layout::Node& n = out_.nodes[at(host)];
        const auto mine = [&](EntryId e) { return e && out_.row(e) == out_.row(host); };
        return f_[host].firstLink && !mine(n.right) && !mine(n.left);
    }

    /// Where a row goes on from one section to another that grows another way: a stitch or two turn with the
    /// others, several turn halfway.
    void turnCorner(LoopId loop) {
        EntryId beside = out_.columns.joins[at(loop)];
        double apart = kCorner;
        if (const EntryId before = f_[loop].prev; !beside && before && wholeCorner_ == before) {
            beside = before;
            apart = 1;
        }
        if (!beside || !placed(beside)) return;
        Frame& mine = node(loop).frame;
        const Frame& other = node(beside).frame;
        if (dot(mine.up, other.up) > 0.7) return;
        const double way = f_.run(loop) == Run::leftward ? -1 : 1;
        const Frame turned{other.at + other.right * (way * apart * w_), other.right, other.up};
        int onward = 0;  // that many stitches the row has still
        for (EntryId e = f_[loop].next; e && f_.run(e) == f_.run(loop) && onward < 2; e = f_[e].next)
            ++onward;
        turned_[at(loop)] = true;
        if (onward < 2) {
            mine = turned;
            wholeCorner_ = loop;
            return;
        }
        const Point2 up = unit(mine.up + other.up, mine.up);
        mine = {(mine.at + turned.at) * 0.5, rightOf(up), up};
    }

    void placePass(PassId pass) {
        const LoopId passed = f_.passed(pass);
        if (!placed(passed)) return;
        const Frame& from = anchor_[at(passed)];
        const double level = out_.columns.height[at(pass)];
        const double rows = (f_.isFree(pass) ? level : slipRise(level)) + kSlipRise * levelsOfEdge(passed);
        node(pass).frame = {from.at + from.up * (rows * h_), from.right, from.up};
        node(pass).placed = true;
    }

    /// Loops without hosts: between their neighbours, or beside one of them.
    void placeBetween(const SweptRow& row, const std::vector<EntryId>& mine) {
        for (bool moved = true; moved;) {
            moved = false;
            for (const EntryId e : mine) {
                if (placed(e)) continue;
                const EntryId r = node(e).right;
                const EntryId l = node(e).left;
                bool right = r && placed(r);
                bool left = l && placed(l);
                if (!right && !left) continue;
                // Beside a stitch that waits rows below it stands at the height of its own row.
                if (right && left && ties_.sameLevel(e, r) != ties_.sameLevel(e, l)) {
                    right = ties_.sameLevel(e, r);
                    left = !right;
                }
                const Frame& from = node(right ? r : l).frame;
                Point2 where = right ? node(r).frame.at - from.right * spacing(r, e)
                                     : node(l).frame.at + from.right * spacing(e, l);
                if (right && left) where = (node(r).frame.at + node(l).frame.at) * 0.5;
                if (out_.columns.besideHost[at(e)]) {
                    const LoopId host = f_[f_[e].firstLink].host;
                    const double chain = ties_.endsChain(host) ? kChainRise : 0;
                    if (ties_.beginsCastOn(host)) where = where + from.up * ((kCastOnStep + chain) * h_);
                }
                node(e).frame = {where, from.right, from.up};
                node(e).placed = true;
                moved = true;
            }
            if (moved) continue;
            // A cast-on: nothing is there yet. It starts beside whatever was laid so far.
            for (const EntryId e : mine) {
                if (placed(e)) continue;
                node(e).frame = {{fresh_, row.row * h_}, {1, 0}, {0, 1}};
                node(e).placed = true;
                moved = true;
                break;
            }
        }
        for (const EntryId e : mine) {
            if (f_.isLoop(e) && !f_[e].firstLink && !node(e).right)
                fresh_ = std::max(fresh_, node(e).frame.at.x + 3 * w_);
        }
    }

    /// Neighbours of one row keep their distance along the row while each stays near the place above its
    /// hosts.
    void spread(const SweptRow& row) {
        if (row.beside.empty()) return;
        std::vector<Point2> home;
        home.reserve(row.entries.size());
        for (const EntryId e : row.entries) home.push_back(node(e).frame.at);
        const std::size_t n = row.beside.size();
        for (int sweep = 0; sweep < 60; ++sweep) {
            for (std::size_t k = 0; k < n; ++k) {
                const Beside& b = row.beside[sweep % 2 == 0 ? k : n - 1 - k];
                Layout::Node& r = node(b.right);
                Layout::Node& l = node(b.left);
                const bool mineR = out_.row(b.right) == row.row;
                const bool mineL = out_.row(b.left) == row.row;
                const Point2 across = unit(r.frame.right + l.frame.right, {1, 0});
                const double off =
                    (spacing(b) - dot(r.frame.at - l.frame.at, across)) * (mineR && mineL ? 0.45 : 0.3);
                if (mineR && !kept(b.right)) r.frame.at = r.frame.at + across * off;
                if (mineL && !kept(b.left)) l.frame.at = l.frame.at - across * off;
            }
            for (std::size_t i = 0; i < home.size(); ++i) {
                const EntryId e = row.entries[i];
                if (kept(e) || (f_.isLoop(e) && !f_[e].firstLink)) continue;
                Point2& p = node(e).frame.at;
                p = p + (home[i] - p) * 0.05;
            }
        }
    }

    /// Bound off, down from what was cast on in the midst of it.
    bool drops(EntryId a, EntryId b) const {
        return (ties_.standsByCastOn(a) || ties_.standsByCastOn(b)) && ties_.boundOffTogether(a, b) &&
               std::abs(dot(out_[a].frame.at - out_[b].frame.at, out_[a].frame.up)) > kDrop * h_;
    }

    /// Neighbours keep the distance along the row at which straightening left them.
    double apart(EntryId right, EntryId left) {
        const Point2 d = node(right).frame.at - node(left).frame.at;
        // Up to what was cast on through a stitch the row climbs a step.
        if (ties_.castOnBeside(right, left)) return length(d);
        const Point2 across = unit(node(right).frame.right + node(left).frame.right, {1, 0});
        return std::max(0.4 * w_, dot(d, across));
    }

    void spring(EntryId a, EntryId b, double rest, double pull) {
        if (a == b || !placed(a) || !placed(b)) return;
        springs_.tie(a, b, rest, pull);
    }

    void addSprings() {
        for (const SweptRow& row : out_.columns.rows) {
            for (const Beside& b : row.beside) {
                // Beside a part that waits only the distance along the row counts.
                if (placed(b.right) && placed(b.left) && ties_.sameLevel(b.right, b.left) &&
                    !drops(b.right, b.left))
                    springs_.beside(b.right, b.left, apart(b.right, b.left));
            }
            for (const EntryId e : row.entries) {
                if (f_.isLoop(e)) {
                    tieToHosts(e);
                } else if (placed(e)) {
                    const LoopId passed = f_.passed(e);
                    spring(e, passed, length(node(e).frame.at - anchor_[at(passed)].at), 0.5);
                }
            }
            tieWithoutHosts(row);
        }
        for (std::int32_t t = 0; t < f_.toolCount(); ++t) {
            EntryId first;
            EntryId second;
            for (HeldId h = f_[ToolId{t}].first; h; h = f_[h].next) {
                const LoopId third = f_[h].loop;
                if (f_[h].state.hanging != 0 || !placed(third) || !f_.isLive(third)) continue;
                const bool neighbours = second && node(third).right == second && node(second).right == first;
                if (first && neighbours) springs_.stiff(first, second, third);
                first = second;
                second = third;
            }
        }
    }

    /// Moves the loops along their rows (see PlumbNet), before the net is sprung.
    void straighten() {
        PlumbNet net(out_.nodes.size());
        for (const SweptRow& row : out_.columns.rows) {
            for (const Beside& b : row.beside) {
                if (!placed(b.right) || !placed(b.left)) continue;
                const Frame& r = node(b.right).frame;
                const Frame& l = node(b.left).frame;
                const Point2 across = unit(r.right + l.right, {1, 0});
                net.addRow(b.right.value, b.left.value, spacing(b) - dot(r.at - l.at, across));
            }
            for (const EntryId e : row.entries) {
                if (placed(e)) straightenColumn(net, e);
            }
        }
        const auto n = static_cast<int>(out_.nodes.size());
        const std::vector<double> moves = net.solve(n > 50000 ? 60 : 200);
        for (std::size_t i = 0; i < moves.size(); ++i) {
            Layout::Node& node = out_.nodes[i];
            if (node.placed) node.frame.at = node.frame.at + node.frame.right * moves[i];
        }
    }

    void straightenColumn(PlumbNet& net, EntryId e) {
        const Frame& frame = node(e).frame;
        if (!f_.isLoop(e)) {
            const LoopId passed = f_.passed(e);
            net.addColumn(e.value, {passed.value}, dot(frame.at - anchor_[at(passed)].at, frame.right));
            return;
        }
        if (out_.columns.begins[at(e)] || turned_[at(e)]) {
            net.addStay(e.value);
            return;
        }
        if (const LoopId under = out_.columns.over[at(e)]) {
            net.addColumn(e.value, {under.value}, dot(frame.at - anchor_[at(under)].at, frame.right));
            return;
        }
        std::vector<std::int32_t> hosts;
        Point2 middle;
        double aside = 0;
        for (LinkId l = f_[e].firstLink; l && hosts.size() < 3; l = f_[l].nextInLoop) {
            const LoopId host = f_[l].host;
            if (ties_.chained(e, host) || ties_.behind(e, host) || !placed(host)) continue;
            hosts.push_back(host.value);
            middle = middle + anchor_[at(host)].at;
            const int kids = ties_.kidsAbove(host);
            if (kids < 2) continue;
            int mine = 0;
            for (LinkId k = f_[host].firstKid; k != l; k = f_[k].nextInHost)
                mine += ties_.standsAbove(k) ? 1 : 0;
            aside += (0.5 * (kids - 1) - mine) * kCrowd * w_;
        }
        if (hosts.empty()) return;
        const double share = 1.0 / static_cast<double>(hosts.size());
        net.addColumn(e.value, hosts, dot(frame.at - middle * share, frame.right) - aside * share);
    }

    void tieToHosts(LoopId loop) {
        if (!placed(loop)) return;
        const int links = f_.linkCount(loop);
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            const LoopId host = f_[l].host;
            if (ties_.chained(loop, host) || ties_.behind(loop, host) || !placed(host)) continue;
            const Point2 from = node(loop).frame.at - node(host).frame.at;
            if (crossed_[at(host)]) {
                const double across = dot(from, node(host).frame.right);
                spring(loop, host, std::sqrt(std::pow(rise(loop, host), 2) + across * across), 0.7);
                continue;
            }
            if (out_.columns.begins[at(loop)] || overTower_[at(loop)]) {
                // The edge keeps its shape; so does what ends a short row of one stitch.
                spring(loop, host, length(from), 0.7);
                continue;
            }
            const bool under = out_.row(loop) - out_.row(host) > 1 && ties_.kidsAbove(host) > 1;
            const double rises = under ? 2 * h_ : rise(loop, host);
            const double lean = dot(from, node(host).frame.right);
            const double rest = std::sqrt(rises * rises + kLeanShare * lean * lean);
            if (turned_[at(loop)]) {
                springs_.follow(loop, host, rest, 0.6);
                continue;
            }
            spring(loop, host, rest, 0.6);
            if (links > 1 || under) continue;
            for (const EntryId beside : {node(host).right, node(host).left}) {
                if (!beside || !f_.isLoop(beside) || !placed(beside) || crossed_[at(beside)]) continue;
                if (out_.row(beside) != out_.row(host)) continue;
                const double apart = dot(node(loop).frame.at - node(beside).frame.at, node(host).frame.right);
                spring(loop, beside, std::sqrt(apart * apart + rises * rises), 0.1);
            }
        }
    }

    /// Loops without hosts keep the height of their row: each is tied to the nearest one of the row below.
    void tieWithoutHosts(const SweptRow& row) {
        const auto below = static_cast<std::size_t>(&row - out_.columns.rows.data());
        if (below == 0) return;
        const SweptRow& lower = out_.columns.rows[below - 1];
        for (const EntryId e : row.entries) {
            if (!f_.isLoop(e) || f_[e].firstLink || !placed(e)) continue;
            if (const LoopId under = out_.columns.over[at(e)]) {
                spring(e, under, liesOver(e, under) * h_, 0.5);
                continue;
            }
            EntryId nearest;
            double best = 1.5 * w_ + h_;
            for (const EntryId b : lower.entries) {
                if (!placed(b)) continue;
                const double d = length(node(e).frame.at - node(b).frame.at);
                if (d >= best) continue;
                best = d;
                nearest = b;
            }
            if (nearest) spring(e, nearest, std::max(h_, best), 0.1);
        }
    }

    void orient() {
        for (std::size_t i = 0; i < out_.nodes.size(); ++i) {
            Layout::Node& n = out_.nodes[i];
            if (!n.placed) continue;
            const bool right = n.right && placed(n.right);
            const bool left = n.left && placed(n.left);
            n.toRight = right ? length(node(n.right).frame.at - n.frame.at) : w_;
            n.toLeft = left ? length(node(n.left).frame.at - n.frame.at) : w_;
            const EntryId e{static_cast<std::int32_t>(i)};
            if (kept(e)) continue;
            const auto tells = [&](EntryId other) {
                if (!ties_.sameLevel(e, other) || dot(node(other).frame.right, n.frame.right) <= 0.7)
                    return false;
                // Up to what was cast on through it, down the chain from there, no row runs.
                const Point2 way = unit(node(other).frame.at - n.frame.at);
                return !drops(e, other) &&
                       (!ties_.castOnBeside(e, other) || std::abs(dot(way, n.frame.right)) > kSteepChain);
            };
            const bool byRight = right && tells(n.right);
            const bool byLeft = left && tells(n.left);
            if ((!byRight && !byLeft) || (f_.isLoop(e) && standsAlone(e))) continue;
            if (byRight != byLeft && !ties_.goOnTogether(e, byRight ? n.right : n.left)) continue;
            const Point2 r = byRight ? node(n.right).frame.at : n.frame.at;
            const Point2 l = byLeft ? node(n.left).frame.at : n.frame.at;
            const Point2 along = unit(r - l, n.frame.right);
            if (dot(along, n.frame.right) < (byRight && byLeft ? kSteepRow : kSteepEnd)) continue;
            n.frame.right = along;
            n.frame.up = leftOf(along);
        }
    }

    void tie() {
        for (std::size_t i = 0; i < out_.nodes.size(); ++i) {
            Layout::Node& n = out_.nodes[i];
            const EntryId e{static_cast<std::int32_t>(i)};
            if (n.placed || !f_.has(e) || out_.row(e) == Rows::kNotPlaced) continue;
            const EntryId with =
                out_.columns.copies[i] ? EntryId{out_.columns.copies[i].value} : out_.columns.tied[i];
            if (with && placed(with)) {
                n.frame = node(with).frame;
            } else if (!f_.isLoop(e) && placed(f_.passed(e))) {
                const Frame& from = node(f_.passed(e)).frame;
                const double level = std::max(1, out_.columns.height[i]);
                n.frame = {from.at + from.up * (h_ * level), from.right, from.up};
            } else {
                continue;
            }
            n.placed = true;
            n.toRight = w_;
            n.toLeft = w_;
        }
    }

    const Fabric& f_;
    Layout out_;
    double w_ = 0;
    double h_ = 0;
    double fresh_ = 0;                 ///< where a further cast-on begins
    std::vector<Frame> anchor_;        ///< by entry id: where what comes next in this column stands
    std::vector<bool> crossed_;        ///< by entry id: changes places above
    std::vector<bool> besideCrossed_;  ///< by entry id: of a row above which columns change places
    std::vector<bool> overTower_;      ///< by entry id: stands on the only stitch of a row, and on others
    std::vector<bool> turned_;         ///< by entry id: turns a corner where two sections meet
    EntryId wholeCorner_;              ///< turned with the section beside it; the next of its row does too
    std::vector<bool> laidOver_;       ///< by entry id: a loop without hosts lies over it
    const Layout* before_ = nullptr;
    std::vector<bool> kept_;  ///< by entry id: keeps its frame of before
    LayoutTies ties_;
    LayoutSprings springs_;
};

}  // namespace

Layout layoutOf(const Fabric& fabric, const LayoutOptions& options) {
    return Net(fabric, options).run(options.sweeps, options.closeRidges);
}

Layout layoutNear(const Fabric& fabric, const Layout& before, const std::vector<EntryId>& changed) {
    LayoutOptions options;
    options.gauge = before.gauge;
    Net net(fabric, options);
    net.keep(before, changed);
    return net.runNear();
}

}  // namespace loopmend

// SPDX-License-Identifier: MIT
#include "shape/path.h"

#include <algorithm>
#include <cmath>

#include "shape/bindings.h"
#include "shape/knitted_cast_on.h"
#include "shape/measure.h"
#include "shape/strand_ways.h"
#include "shape/tool_strand.h"

namespace loopmend {

namespace {

constexpr double kPi = 3.14159265358979323846;
/// So far out from a foot a strand keeps its depth, in stitch widths.
constexpr double kHolds = 0.43;

class Weaver {
  public:
    Weaver(const Fabric& fabric, const Layout& layout, const PathOptions& options)
        : f_(fabric),
          layout_(layout),
          options_(options),
          m_(layout.gauge),
          bindings_(fabric, layout),
          castOn_(fabric, layout, bindings_),
          ways_(fabric, layout, bindings_) {}

    Path run() {
        path_.gauge = layout_.gauge;
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            if (f_[YarnId{y}].flags.gone == 0) yarn(YarnId{y});
        }
        if (options_.tools) {
            for (std::int32_t t = 0; t < f_.toolCount(); ++t) tool(ToolId{t});
        }
        return std::move(path_);
    }

  private:
    bool shown(EntryId e) const { return layout_[e].placed && !(f_.isLoop(e) && f_.isNothing(e)); }

    void add(Point3 p, EntryId e) { controls_.push_back({p, e}); }
    void add(const Frame& frame, double x, double y, double z, EntryId e) { add(frame.point(x, y, z), e); }

    void flush(YarnId yarn) {
        if (controls_.size() >= 2) {
            PathStrand strand;
            strand.yarn = yarn;
            strand.mm = m_.yarn;
            strand.points = resampled(controls_, options_.step * m_.w);
            path_.strands.push_back(std::move(strand));
        }
        controls_.clear();
    }

    // ---- along a yarn

    void yarn(YarnId yarn) {
        controls_.clear();
        bool first = true;
        StrandEnd last;
        for (EntryId e = f_[yarn].first; e; e = f_[e].next) {
            if (!shown(e)) continue;
            const StrandEnd foot = footOf(e);
            if (first) {
                end(foot, false);
            } else {
                strand(last, foot, yarn);
            }
            if (f_.isLoop(e)) {
                loop(e);
            } else {
                pass(e);
            }
            last = foot;
            first = false;
        }
        if (!first) end(last, true);
        flush(yarn);
    }

    StrandEnd footOf(EntryId e) const {
        StrandEnd foot;
        foot.entry = e;
        foot.run = f_.run(e);
        foot.pass = !f_.isLoop(e);
        if (foot.pass) {
            foot.frame = layout_[e].frame;
            foot.z = passZ(e);
        } else {
            foot.frame = bindings_.foot(e);
            foot.z = depthOf(e).feet;
        }
        return foot;
    }

    double passZ(PassId p) const {
        const double side = f_.passSide(p) == Side::right ? 1 : -1;
        const bool apart = layout_.columns.tied[static_cast<std::size_t>(p.value)] || !f_.isFree(p);
        return side * m_.d * (apart ? 2.8 : 1.3);
    }

    struct Depth {
        double feet = 0;  ///< z where the feet pass the hosts' legs
        double legs = 0;  ///< z where the legs pass the hosts' heads
    };

    /// Behind and in front of everything the loop goes through at its feet.
    Depth depthOf(LoopId loop) const {
        bool any = false;
        double low = 0;
        double high = 0;
        double side = 1;
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            const Binding b = bindings_.of(l);
            if (b.chain) continue;
            const double at = b.behind ? layout_.fold.apart() : b.stack;
            low = any ? std::min(low, at) : at;
            high = any ? std::max(high, at) : at;
            side = b.side;
            any = true;
        }
        if (const double inner = bindings_.betweenSiblings(loop); inner != 0)
            return {-inner * 1.2 * m_.yarn, 0};
        if (!any) return {0, 0};
        // Under legs that stand at an edge: out of the piece beside them and over all of them.
        if (bindings_.isUnderLegs(loop)) return {-side * 3 * m_.d, side * 3 * m_.d};
        const double over = bindings_.isCopy(loop) ? side * 1.1 * m_.yarn : 0;
        // From under a stitch that stands there the strand comes up behind its legs.
        const double behind = over + (bindings_.isLifted(loop) ? side * 1.1 * m_.yarn : 0);
        return {(side > 0 ? low - m_.d : high + m_.d) - behind, (side > 0 ? high + m_.d : low - m_.d) + over};
    }

    static double ahead(Run run) { return run == Run::leftward ? -1 : 1; }

    /// From one entry to the next: a sinker, a turn at the edge, a long bar, or the cut of a round.
    void strand(const StrandEnd& a, const StrandEnd& b, YarnId yarn) {
        const double z = 0.5 * (a.z + b.z);
        if (a.run != b.run) {
            if (f_.isLoop(b.entry) && castOn_.turnsBeside(b.entry)) return;
            turn(a, b, z);
            return;
        }
        if (f_.isLoop(b.entry) && bindings_.besideItsHost(b.entry)) return;
        const Point2 way = unit(a.frame.right + b.frame.right, {1, 0}) * ahead(a.run);
        const Point2 d = b.frame.at - a.frame.at;
        const double along = dot(d, way);
        if (along < -1.2 * m_.w && ways_.rowAlong(b.entry, false) != ways_.rowAlong(a.entry, true)) {
            add(a.frame, ahead(a.run) * 0.5 * m_.w, -m_.yc - m_.ay, a.z, a.entry);
            // Ends of several yarns lie one behind and below the other, so that none slides past another.
            const double behind = -1.5 * m_.yarn * std::min(3, yarn.value);
            const double below = -0.28 * m_.w * std::min(3, yarn.value);
            const auto height = [&](const StrandEnd& at, double out) {
                return ways_.leansOut(at.entry, out) ? 0.5 * m_.ay : -m_.yc - 0.8 * m_.ay + below;
            };
            add(a.frame, ahead(a.run) * 0.95 * m_.w, height(a, ahead(a.run)), behind, a.entry);
            flush(yarn);
            add(b.frame, -ahead(b.run) * 0.95 * m_.w, height(b, -ahead(b.run)), behind, b.entry);
            add(b.frame, -ahead(b.run) * 0.5 * m_.w, -m_.yc - m_.ay, b.z, b.entry);
            return;
        }
        for (const auto& points : {ways_.fromUnder(a, b), ways_.overHead(a, b), ways_.upBehind(a, b)}) {
            for (const PathPoint& p : points) add(p.at, p.entry);
            if (!points.empty()) return;
        }
        if (ways_.dropsDown(a, b)) {
            const Point3 out = a.frame.point(ahead(a.run) * 0.5 * m_.w, -m_.yc - 0.5 * m_.ay, a.z);
            const Point3 in = b.frame.point(-ahead(b.run) * 0.5 * m_.w, -m_.yc - 0.5 * m_.ay, b.z);
            for (const double t : {0.0, 0.5, 1.0}) add(mix(out, in, t), a.entry);
            return;
        }
        const double l = length(d);
        const Frame middle = between(a.frame, b.frame, 0.5, way * ahead(a.run));
        const double depth = -m_.yc - m_.ay * std::clamp(l / m_.w, 0.3, 1.0);
        if (l < 1.7 * m_.w) {
            const double deep = ways_.underBoth(a, b);
            const auto at = [&](double usual) { return deep != 0 ? deep : usual; };
            const Point3 p = middle.point(0, depth, at(z));
            // A strand that goes by reaches to the feet of the loops beside it.
            const double foot = 0.5 * m_.w - 0.55 * m_.a;
            if (b.pass && !a.pass) {
                add(mix(p, a.frame.point(ahead(a.run) * foot, -m_.yc - m_.q, a.z), 0.65), a.entry);
            }
            const bool holds = ways_.holdsDepth(a, b);
            if (holds) add(a.frame.point(ahead(a.run) * kHolds * m_.w, depth, at(a.z)), a.entry);
            add(p, b.pass ? b.entry : a.entry);
            if (holds) add(b.frame.point(-ahead(b.run) * kHolds * m_.w, depth, at(b.z)), b.entry);
            if (a.pass && !b.pass) {
                add(mix(p, b.frame.point(-ahead(b.run) * foot, -m_.yc - m_.q, b.z), 0.65), a.entry);
            }
            return;
        }
        const double s = 0.5 * m_.w / l;
        add(between(a.frame, b.frame, s, way * ahead(a.run)), 0, depth, a.z, a.entry);
        add(middle, 0, depth - 0.1 * m_.w, z, a.entry);
        add(between(a.frame, b.frame, 1 - s, way * ahead(a.run)), 0, depth, b.z, b.entry);
    }

    static Frame between(const Frame& a, const Frame& b, double t, Point2 right) {
        Point2 along = b.at - a.at;
        if (dot(along, right) < 0) along = along * -1;
        along = unit(along, right);
        // A strand that climbs steeply keeps the direction of its rows.
        if (dot(along, right) < 0.7) along = right;
        return Frame::along(mix(a.at, b.at, t), along);
    }

    void turn(const StrandEnd& a, const StrandEnd& b, double z) {
        const Point2 out = a.frame.right * ahead(a.run);
        const double reach = std::max(dot(a.frame.at, out), dot(b.frame.at, out));
        const Point2 into = ways_.endOfRow(b, out, reach);
        const Point2 middle = mix(a.frame.at, into, 0.5);
        const bool wide = a.pass || b.pass;  // a strand round a loop, or a rung at the edge
        const Point2 up = a.frame.up;
        const double rise = std::abs(dot(into - a.frame.at, up));
        // What comes up from behind an edge stays behind it until it is past it.
        const bool behind = !a.pass && f_.isLoop(a.entry) && bindings_.isUnderLegs(a.entry);
        const bool carried = f_.yarnCount() > 1 && rise > 1.5 * m_.h && !behind;
        // Further yarns turn outside the first.
        const double aside = carried ? 0 : 0.14 * std::min(3, f_[a.entry].yarn.value);
        const double far = (wide ? 0.85 : 0.66 + aside) * m_.w + reach - dot(middle, out);
        // Between the low rows of garter it must come up under the foot, not beside it.
        const double row = std::min(rise, ways_.rowUnder(a.entry));
        const double low = row > 0.5 * m_.h ? 0.9 * std::clamp((0.8 - row / m_.h) / 0.15, 0.0, 1.0) : 0;
        const Point2 p = middle + out * far - up * (m_.yc + (0.35 + low) * m_.ay);
        const double half = 0.5 * std::max(0.6 * m_.h, rise);
        const double climb = dot(into - a.frame.at, up) < 0 ? -1 : 1;
        const Point2 bow = up * (0.72 * half * climb);
        const Point2 in = out * (wide ? 0.22 * m_.w : 0.13 * m_.w);
        const auto put = [&](Point2 at, double height, EntryId e) { add({at.x, at.y, height}, e); };
        if (carried) {
            // Carried up past turns of others: every yarn in a layer of its own, and leaning inward, so that
            // one which sets out beside it passes under it and need not when it comes in.
            // One that goes on behind the work, or before it, is there before it meets the others.
            const double layer = b.pass ? b.z : m_.yarn * (0.6 - 1.2 * std::min(3, f_[a.entry].yarn.value));
            put(p + out * (0.1 * m_.w) - bow, layer, a.entry);
            const EntryId goes = b.pass ? b.entry : a.entry;
            put(p, layer, goes);
            put(p - in * 0.6 + up * (climb * (0.5 * rise - 0.8 * m_.h)), layer, goes);
            put(p - in * 1.5 + bow, layer, b.entry);
            return;
        }
        put(p - in - bow, behind ? a.z : mixed(a.z, b.z, 0.25), a.entry);
        put(p, behind ? a.z : z, a.entry);
        // From one piece over to the other it comes in along its row.
        const Fold& fold = layout_.fold;
        const bool passes = !fold.empty() && fold.turns(a.frame.at) != fold.turns(b.frame.at);
        put(p - in + bow, mixed(a.z, b.z, 0.75), passes ? a.entry : b.entry);
        if (passes) add(b.frame, -ahead(b.run) * 0.5 * m_.w, -m_.yc - m_.ay, b.z, a.entry);
    }

    static double mixed(double a, double b, double t) { return a * (1 - t) + b * t; }

    /// A yarn's end, or the yarn to the ball: out of the work, or upward behind the needle where stitches
    /// still wait.
    void end(const StrandEnd& foot, bool last) {
        const double way = last ? ahead(foot.run) : -ahead(foot.run);
        const double reach = options_.tail * m_.w;
        std::vector<Point3> out;
        const EntryId beside = way < 0 ? layout_[foot.entry].left : layout_[foot.entry].right;
        const bool blocked = beside || (f_.isLoop(foot.entry) && bindings_.isCopy(foot.entry));
        const double y =
            !last && f_.isLoop(foot.entry) && castOn_.goesOnBeside(foot.entry) ? 0 : -m_.yc - m_.ay;
        out.push_back(foot.frame.point(way * 0.5 * m_.w, y, foot.z));
        if (!blocked && !last && ways_.besideClimb(foot.entry)) {
            // Down behind the edge, inside of what climbs there.
            out.back() = foot.frame.point(way * 0.42 * m_.w, y, foot.z);
            out.push_back(foot.frame.point(way * 0.45 * m_.w, y - 0.25 * reach, -2.5 * m_.yarn));
            out.push_back(foot.frame.point(way * 0.44 * m_.w, y - 0.55 * reach, -3 * m_.yarn));
        } else if (!blocked) {
            // Not along the leg of a host that stands farther out.
            const double fall = ways_.leansOut(foot.entry, way) ? -1 : 1;
            out.push_back(foot.frame.point(way * (0.5 * m_.w + 0.4 * reach), y - 0.06 * reach * fall, 0));
            out.push_back(foot.frame.point(way * (0.5 * m_.w + reach), y - 0.3 * reach * fall, 0));
        } else {
            const double z = -4 * m_.yarn;
            const double up = last ? 1 : -1;
            out.push_back(foot.frame.point(way * 0.8 * m_.w, y + up * 0.15 * reach, z));
            out.push_back(foot.frame.point(way * 1.0 * m_.w, y + up * (2 * m_.h + 0.5 * reach), z));
        }
        if (!last) std::reverse(out.begin(), out.end());
        for (const Point3& p : out) add(p, foot.entry);
    }

    // ---- one pass

    void pass(PassId p) {
        const Frame& frame = layout_[p].frame;
        const double way = ahead(f_.run(p));
        const double y = -m_.yc - m_.ay;
        const double z = passZ(p);
        if (!f_.isFree(p)) {
            for (const double x : {-0.3, 0.0, 0.3}) add(frame, way * x * m_.w, y, z, p);
            return;
        }
        const double low = ways_.isLongRung(p) ? 0.26 : 0.06;
        for (const double x : {-0.26, 0.0, 0.26}) {
            const double bow = std::cos(x * kPi / 1.1);
            add(frame, way * x * m_.w, y - low * m_.w * bow, z * bow, p);
        }
    }

    // ---- one loop

    /// What a stretch of a loop's head goes round.
    struct Lobe {
        std::vector<Binding> kids;  ///< right to left; empty: nothing
        int twist = 0;
        bool chain = false;
    };

    std::vector<Lobe> lobesOf(LoopId loop) const {
        std::vector<Lobe> lobes;
        for (const Binding& b : bindings_.through(loop)) {
            if (lobes.empty() || lobes.back().twist != b.twist || lobes.back().chain != b.chain)
                lobes.push_back({{}, b.twist, b.chain});
            lobes.back().kids.push_back(b);
        }
        if (lobes.empty()) {
            Lobe lobe;
            for (HeldId h = f_[loop].held; h; h = f_[h].alsoHeld) {
                if (f_[h].state.hanging == 0) lobe.twist = f_[h].state.turns;
            }
            lobes.push_back(lobe);
        }
        // A hitch is knotted at its foot: its yarn crosses itself there.
        const bool hitch = f_[loop].flags.anchored != 0 && !f_[loop].firstLink;
        if (hitch && lobes.size() == 1 && lobes.front().twist == 0)
            lobes.front().twist = f_.run(loop) == Run::leftward ? -1 : 1;
        return lobes;
    }

    void loop(LoopId loop) {
        const double e = -ahead(f_.run(loop));  // the side on which the yarn comes in
        std::vector<Lobe> lobes = lobesOf(loop);
        if (e < 0) std::reverse(lobes.begin(), lobes.end());
        lower(loop, e, lobes.front().twist, true);
        for (std::size_t i = 0; i < lobes.size(); ++i) {
            if (i > 0) dip(loop, lobes[i - 1], lobes[i]);
            lobe(loop, lobes[i], e);
        }
        lower(loop, -e, lobes.back().twist, false);
    }

    /// Between two stretches of a head that are twisted differently the yarn comes down like a leg.
    void dip(LoopId loop, const Lobe& before, const Lobe& after) {
        const Binding& p = nearest(before, after);
        const Binding& q = nearest(after, before);
        const Frame frame{mix(p.frame.at, q.frame.at, 0.5), p.frame.right, p.frame.up};
        add(frame, 0, -m_.yc - 1.5 * m_.q, 0.5 * (p.side + q.side) * m_.d, loop);
    }

    static const Binding& nearest(const Lobe& of, const Lobe& to) {
        const Binding* best = &of.kids.front();
        for (const Binding& k : of.kids) {
            const Point2 target = to.kids.front().frame.at;
            if (length(k.frame.at - target) < length(best->frame.at - target)) best = &k;
        }
        return *best;
    }

    /// StrandEnd and lower leg on one side (x: +1 right), from the strand upward or back down to it.
    void lower(LoopId loop, double x, int twist, bool upward) {
        std::vector<Point3> p;
        const Frame frame = bindings_.foot(loop);
        const Layout::Node& node = layout_[loop];
        if (bindings_.besideItsHost(loop)) {
            p = castOn_.throughBeside(loop, x);
        } else if (const Depth z = depthOf(loop); hasFoot(loop)) {
            if (bindings_.isUnderLegs(loop)) {
                p.push_back(frame.point(x * 0.18 * m_.w, -0.25 * m_.w, z.feet));
                p.push_back(frame.point(x * 0.16 * m_.w, -0.17 * m_.w, 0));
                p.push_back(frame.point(x * 0.15 * m_.w, -0.05 * m_.w, z.legs));
                const Frame& own = layout_[loop].frame;
                p.push_back(own.point(x * 0.2 * m_.w, 0.75 * m_.w, z.legs));
                // Over what turns at the side of the piece.
                if (bindings_.growsAside(loop)) p.push_back(own.point(x * 0.2 * m_.w, 1.4 * m_.w, z.legs));
            } else {
                const double room = std::clamp(x > 0 ? node.toRight : node.toLeft, 0.9 * m_.w, 1.15 * m_.w);
                // Between two that stand in one stitch the strand need not come down to their feet.
                const bool between = bindings_.isLifted(loop) && x * ways_.siblingSide(loop) > 0;
                const double deep = underNeighbour(loop, upward);
                const double feet = deep != 0 ? deep : z.feet;
                if (between) {
                    p.push_back(frame.point(x * (m_.b + 0.02 * m_.w), -0.12 * m_.w, 0.8 * z.feet));
                } else {
                    p.push_back(frame.point(x * (0.5 * room - 0.7 * m_.a), -m_.yc - m_.q, feet));
                }
                const double b = m_.b - (bindings_.isCopy(loop) ? 0.05 * m_.w : 0);
                p.push_back(frame.point(x * b, -m_.yc, 0.5 * (feet + z.legs)));
                if (twist % 2 != 0) {
                    p.push_back(frame.point(x * b, m_.yc + 0.8 * m_.q, z.legs));
                } else {
                    p.push_back(frame.point(x * (b + 0.04 * m_.w), m_.yc + m_.q, z.legs));
                }
            }
            crossingLeg(loop, x, p);
        } else if (castOn_.goesOnBeside(loop)) {
            p = castOn_.firstLoop(loop, x);
        } else if (f_[loop].flags.anchored != 0) {
            p.push_back(frame.point(x * 0.22 * m_.w, -m_.yc - m_.q, 0));
            p.push_back(frame.point(x * 0.10 * m_.w, -0.5 * m_.yc, 0));
        } else {
            const double room = std::min(x > 0 ? node.toRight : node.toLeft, m_.w);
            if (const double inner = bindings_.betweenSiblings(loop); inner != 0) {
                // Up behind the head that its neighbours come through.
                p.push_back(frame.point(x * 0.36 * room, -0.12 * m_.w, -inner * 1.3 * m_.yarn));
                p.push_back(frame.point(x * 0.36 * room, m_.yc + m_.ay, -inner * 1.7 * m_.yarn));
            } else {
                p.push_back(frame.point(x * 0.41 * room, 0.2 * m_.ay, 0));
            }
        }
        chain(loop, x, p);
        roundCorner(loop, x, p);
        if (!upward) std::reverse(p.begin(), p.end());
        for (const Point3& point : p) add(point, loop);
    }

    /// The depth at which the strand from the loop before it, or to the next one, passes the hosts of both.
    double underNeighbour(LoopId loop, bool before) const {
        const LinkId link = f_[loop].firstLink;
        if (!link || bindings_.layer(f_[link].host) == 0) return 0;
        const EntryId beside = before ? f_[loop].prev : f_[loop].next;
        if (!beside || !f_.isLoop(beside) || !shown(beside) || f_.run(beside) != f_.run(loop)) return 0;
        return ways_.underBoth(footOf(loop), footOf(beside));
    }

    /// Where what stands on it grows another way, the legs go clear of the host before they turn.
    void roundCorner(LoopId loop, double x, std::vector<Point3>& p) const {
        const std::vector<Binding> kids = bindings_.through(loop);
        if (kids.empty() || !hasFoot(loop) || bindings_.isUnderLegs(loop) || bindings_.besideItsHost(loop))
            return;
        const Binding& kid = kids.front();
        if (kid.chain || f_[f_[kid.link].loop].firstLink != f_[f_[kid.link].loop].lastLink) return;
        const Frame foot = bindings_.foot(loop);
        if (dot(foot.up, kid.frame.up) > 0.75) return;
        const Frame turned{foot.at + foot.up * (0.85 * m_.w) + kid.frame.up * (0.75 * m_.w), kid.frame.right,
                           kid.frame.up};
        p.push_back(turned.point(x * 0.16 * m_.w, 0, kid.side * m_.d));
        const Point2 way = unit(kid.frame.at - turned.at, kid.frame.up);
        if (length(kid.frame.at - turned.at) < m_.w) return;
        const Frame along{mix(turned.at, kid.frame.at, 0.5), rightOf(way), way};
        p.push_back(along.point(x * 0.16 * m_.w, 0, kid.side * m_.d));
    }

    bool hasFoot(LoopId loop) const {
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            if (!bindings_.of(l).chain) return true;
        }
        return false;
    }

    /// A leg that travels to another column is on its layer before it meets the first leg it crosses.
    void crossingLeg(LoopId loop, double x, std::vector<Point3>& p) const {
        const double layer = bindings_.layer(loop);
        if (layer == 0) return;
        const std::vector<Binding> kids = bindings_.through(loop);
        const Frame to = kids.empty() ? top(loop) : kids.front().frame;
        const double side = kids.empty() ? 1 : kids.front().side;
        const Point2 upper = to.point(x * (m_.a - 0.04 * m_.w), -m_.yc - m_.q);
        const Point2 at = mix({p.back().x, p.back().y}, upper, 0.3);
        p.push_back({at.x, at.y, side * m_.d + m_.yarn * layer});
    }

    /// The loop before it in the same row lies round its legs, on its side along the row.
    void chain(LoopId loop, double x, std::vector<Point3>& p) const {
        if (bindings_.besideItsHost(loop)) return;
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            const Binding b = bindings_.of(l);
            if (!b.chain) continue;
            const double s = b.side;
            if (bindings_.endsChain(loop)) {
                p.push_back(b.frame.point(x * m_.b, -m_.yc - 1.1 * m_.q, -s * 1.3 * m_.d));
                p.push_back(b.frame.point(x * m_.b, -0.2 * m_.yc, 0));
                p.push_back(b.frame.point(x * (m_.b + 0.04 * m_.w), m_.yc + m_.q, s * m_.d));
                continue;
            }
            const double below = f_.run(loop) == Run::leftward ? -1 : 1;  // the chain's side toward the piece
            const bool first = x * below < 0;
            p.push_back(b.frame.point(below * (m_.a + 0.12 * m_.w), first ? -0.29 * m_.w : 0.05 * m_.w,
                                      -s * 1.3 * m_.d));
            p.push_back(b.frame.point(first ? below * 0.1 * m_.a : below * 0.62 * m_.a,
                                      first ? -0.06 * m_.w : 0.12 * m_.w, 0));
            p.push_back(b.frame.point(x * m_.b, m_.yc + m_.q, s * m_.d));
        }
    }

    /// Where the head of a loop lies that nothing goes through.
    Frame top(LoopId loop) const {
        const Frame frame = layout_[loop].frame;
        double rise = 1.0;
        if (f_.isHeld(loop)) rise = 1.05;
        if (f_[loop].flags.anchored != 0 && f_[loop].firstLink) rise = 0.75;
        const double slips = layout_.columns.slips[static_cast<std::size_t>(loop.value)];
        // Rungs that are only marks stay where they are, whatever a pin does.
        if (f_.isHeld(loop) && !f_.isOpen(loop)) rise += 0.85 * slips;
        if (bindings_.endsChain(loop)) rise += kChainRise;
        // Past the side of the piece that it was picked up along.
        if (bindings_.growsAside(loop)) rise += 1.4 * m_.w / m_.h;
        for (HeldId h = f_[loop].held; h; h = f_[h].alsoHeld)
            rise += kWindRise * std::max(0, std::abs(int{f_[h].state.turns}) - 1);
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            const Binding b = bindings_.of(l);
            if (b.chain && !bindings_.endsChain(loop) && !bindings_.besideItsHost(loop))
                return {b.frame.at + b.frame.up * (0.8 * m_.w), b.frame.right, b.frame.up};
        }
        return {frame.at + frame.up * (rise * m_.h), frame.right, frame.up};
    }

    struct HeldLike {
        bool held = false;
        double rightLegZ = 0;
    };
    HeldLike heldLike(LoopId loop) const {
        for (HeldId h = f_[loop].held; h; h = f_[h].alsoHeld) {
            const Held& held = f_[h];
            if (held.state.hanging != 0) continue;
            const double z = 0.5 * (m_.needle + m_.yarn);
            return {true, held.state.mount == Mount::western ? z : -z};
        }
        return {};
    }

    /// The upper legs and the head around the bindings of one lobe.
    void lobe(LoopId loop, const Lobe& lobe, double e) {
        const double us = lobe.twist % 2 != 0 ? -e : e;
        if (lobe.kids.empty()) {
            const Frame frame = top(loop);
            helix(loop, frame, lobe.twist, e, true, 0.5 * m_.d);
            openSide(loop, frame, us, true);
            add(frame, 0, m_.yc + m_.ay, 0, loop);
            openSide(loop, frame, -us, false);
            helix(loop, frame, lobe.twist, -e, false, 0.5 * m_.d);
            return;
        }
        const Binding& right = lobe.kids.front();
        const Binding& left = lobe.kids.back();
        const Binding& first = us > 0 ? right : left;
        const Binding& second = us > 0 ? left : right;
        helix(loop, first.frame, lobe.twist, e, true, first.side * m_.d);
        side(loop, first, us, true);
        const std::size_t n = lobe.kids.size();
        for (std::size_t i = 0; i < n; ++i) {
            const Binding& k = lobe.kids[us > 0 ? i : n - 1 - i];
            if (i > 0) {
                const Binding& before = lobe.kids[us > 0 ? i - 1 : n - i];
                const Point2 middle = mix(before.frame.at, k.frame.at, 0.5);
                const double z = before.side == k.side ? -k.side * m_.d : 0;
                add(Frame{middle, k.frame.right, k.frame.up}, k.shift, m_.yc + 0.75 * m_.ay, z + k.stack,
                    loop);
            }
            add(k.frame, k.shift, m_.yc + m_.ay * k.wide, -k.side * m_.d + k.stack, loop);
        }
        side(loop, second, -us, false);
        helix(loop, second.frame, lobe.twist, -e, false, second.side * m_.d);
    }

    void side(LoopId loop, const Binding& k, double x, bool upward) {
        // Where the row is narrow, heads keep clear of their neighbours.
        const Layout::Node& node = layout_[f_[k.link].loop];
        const double room = std::clamp((x > 0 ? node.toRight : node.toLeft) / m_.w, 0.72, 1.0);
        const double a = m_.a * k.wide * (k.chain ? 1 : room);
        Point3 p[3] = {k.frame.point(k.shift + x * (a - 0.04 * m_.w), -m_.yc - m_.q, k.side * m_.d + k.stack),
                       k.frame.point(k.shift + x * a, m_.yc, k.stack),
                       k.frame.point(k.shift + x * 0.7 * a, m_.yc + m_.q * k.wide, -k.side * m_.d + k.stack)};
        // A pin or a thread that it was left on goes between its legs.
        if (const HeldLike held = heldLike(loop); held.held && !k.chain)
            p[1].z += (x > 0 ? 0.5 : -0.5) * held.rightLegZ;
        for (int i = 0; i < 3; ++i) add(p[upward ? i : 2 - i], loop);
    }

    void openSide(LoopId loop, const Frame& frame, double x, bool upward) {
        const HeldLike held = heldLike(loop);
        const double legs = 0.5 * m_.d;
        Point3 p[3];
        if (held.held) {
            const double z = x > 0 ? held.rightLegZ : -held.rightLegZ;
            p[0] = frame.point(x * (m_.a - 0.06 * m_.w), -m_.yc - m_.q, legs + 0.5 * z);
            p[1] = frame.point(x * 0.8 * m_.a, m_.yc, z);
            p[2] = frame.point(x * 0.55 * m_.a, m_.yc + 0.75 * m_.ay, z);
        } else {
            p[0] = frame.point(x * (m_.a - 0.04 * m_.w), -m_.yc - m_.q, legs);
            p[1] = frame.point(x * m_.a, m_.yc, 0);
            p[2] = frame.point(x * 0.72 * m_.a, m_.yc + m_.q, 0);
        }
        for (int i = 0; i < 3; ++i) add(p[upward ? i : 2 - i], loop);
    }

    /// The crossing legs of a twisted loop, between its feet and its head.
    void helix(LoopId loop, const Frame& head, int twist, double x, bool upward, double z) {
        const int n = std::abs(twist);
        if (n == 0) return;
        const Frame foot = bindings_.foot(loop);
        const double sign = twist > 0 ? 1 : -1;
        std::vector<Point3> p;
        for (int j = 1; j < 2 * n; ++j) {
            const double angle = kPi * j / 2;
            // A loop without hosts is closed at its base.
            const double middle = hasFoot(loop) ? 0.5 : 0.3;
            const double t = middle + (j / (2.0 * n) - 0.5) * 0.45;
            const Frame frame{mix(foot.at, head.at, t), foot.right, foot.up};
            const double reach = 0.30 * m_.w;
            p.push_back(frame.point(x * reach * std::cos(angle), 0, z - sign * x * m_.d * std::sin(angle)));
        }
        if (!upward) std::reverse(p.begin(), p.end());
        for (const Point3& point : p) add(point, loop);
    }

    // ---- tools

    void tool(ToolId id) {
        const Tool& tool = f_[id];
        std::vector<PathPoint> right;  // to the right of the gap between the tips
        std::vector<PathPoint> left;
        bool beyond = false;
        for (HeldId h = tool.first; h; h = f_[h].next) {
            if (h == tool.tip) beyond = true;
            if (f_[h].state.hanging != 0 || !layout_[f_[h].loop].placed) continue;
            const LoopId loop = f_[h].loop;
            Frame frame = top(loop);
            if (!f_.isLive(loop)) {
                const std::vector<Binding> kids = bindings_.through(loop);
                if (!kids.empty()) frame = kids.front().frame;
            }
            const double y = m_.yc + m_.ay - 0.5 * (m_.needle + m_.yarn);
            (beyond ? left : right).push_back({frame.point(0, y, 0), loop});
        }
        if (right.empty() && left.empty()) return;
        const bool needle = tool.kind == ToolKind::needle || tool.kind == ToolKind::spareNeedle;
        const bool both = !right.empty() && !left.empty();
        rod(id, right, needle, both || (needle && left.empty() && f_.run(lastEntry()) == Run::leftward),
            false);
        rod(id, left, needle, false, both || (needle && right.empty()));
    }

    EntryId lastEntry() const {
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            if (f_[YarnId{y}].flags.gone == 0 && f_[YarnId{y}].last) return f_[YarnId{y}].last;
        }
        return EntryId{0};
    }

    /// A straight strand through the loops a tool holds, from right to left.
    void rod(ToolId tool, const std::vector<PathPoint>& at, bool needle, bool tipLeft, bool tipRight) {
        if (at.empty()) return;
        ToolEnds ends;
        ends.needle = needle;
        ends.inner = needle && f_[tool].tip && f_[f_[tool].tip].prev;
        ends.tipLeft = tipLeft;
        ends.tipRight = tipRight;
        path_.strands.push_back(toolStrand(tool, at, m_, options_.step, ends));
    }

    const Fabric& f_;
    const Layout& layout_;
    PathOptions options_;
    Measure m_;
    Bindings bindings_;
    KnittedCastOn castOn_;
    StrandWays ways_;
    Path path_;
    std::vector<PathPoint> controls_;
};

}  // namespace

Path pathOf(const Fabric& fabric, const Layout& layout, const PathOptions& options) {
    Path path = Weaver(fabric, layout, options).run();
    for (PathStrand& strand : path.strands) {
        for (PathPoint& point : strand.points) {
            if (!layout.squeeze.empty()) point.at.y = layout.squeeze.height(point.at.y);
            if (!layout.fold.empty()) {
                const bool stays =
                    point.entry && layout.columns.behind[static_cast<std::size_t>(point.entry.value)];
                point.at = stays ? layout.fold.lain(point.at) : layout.fold.folded(point.at);
            }
            point.at = layout.winding.wound(point.at);
        }
    }
    return path;
}

Point3 middleOf(const Path& path, const std::vector<EntryId>& entries) {
    Point3 sum;
    int n = 0;
    for (const PathStrand& strand : path.strands) {
        for (const PathPoint& p : strand.points) {
            if (std::find(entries.begin(), entries.end(), p.entry) == entries.end()) continue;
            sum = sum + p.at;
            ++n;
        }
    }
    return n > 0 ? sum * (1.0 / n) : sum;
}

}  // namespace loopmend

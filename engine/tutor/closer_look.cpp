// SPDX-License-Identifier: MIT
#include "tutor/closer_look.h"

#include <algorithm>
#include <optional>

#include "fabric/pairing.h"
#include "pattern/working.h"
#include "shape/cloth.h"
#include "tutor/swatch.h"

namespace loopmend {

namespace {

/// A piece on the table is drawn so many pixels high, its papers left out.
constexpr double kTablePixels = 640;

/// A stitch that is not as it was meant, and what stands in its place in the other cloth.
struct Pair {
    LoopId actual;
    LoopId meant;
};

std::optional<Pair> firstDifference(const Fabric& meant, const Fabric& actual) {
    const Pairing pairing = pairUp(meant, actual);
    const auto below = [](const Fabric& f, LoopId loop) {
        return f[loop].firstLink ? f[f[loop].firstLink].host : f.loopBefore(loop);
    };
    for (const LoopId loop : pairing.changed) return Pair{loop, pairing.meant(loop)};
    for (LoopId loop : pairing.missing) {
        const LoopId own = loop;
        while (loop && !pairing.actual(loop)) loop = below(meant, loop);
        if (loop) return Pair{pairing.actual(loop), own};
    }
    for (LoopId loop : pairing.extra) {
        const LoopId own = loop;
        while (loop && !pairing.meant(loop)) loop = below(actual, loop);
        if (loop) return Pair{own, pairing.meant(loop)};
    }
    for (const CrossingId crossing : pairing.extraCrossings) {
        if (const LoopId loop = actual[crossing].a; pairing.meant(loop))
            return Pair{loop, pairing.meant(loop)};
    }
    for (const CrossingId crossing : pairing.missingCrossings) {
        if (const LoopId loop = meant[crossing].a; pairing.actual(loop))
            return Pair{pairing.actual(loop), loop};
    }
    return std::nullopt;
}

}  // namespace

WayOfLooking closerLook(const Lesson& lesson, bool mirrored) {
    for (const LessonSwatch& piece : lesson.swatches) {
        if (piece.faults.empty()) continue;
        Swatch swatch(piece, Terms::us, mirrored);
        const Knitting actual = swatch.takeActual();
        const Fabric& meant = swatch.meantAt(swatch.rows(), swatch.steps());
        const std::optional<Pair> pair = firstDifference(meant, *actual.fabric);
        if (!pair) continue;
        // The drawn template is enough to compare by, and there at once.
        const Cloth is = Cloth::drawn(*actual.fabric);
        const Cloth should = Cloth::drawn(meant);
        const ClothBounds bounds = boundsOf(is.path());
        View held;
        held.pixelsPerMm = kTablePixels / std::max(1.0, bounds.high.y - bounds.low.y);
        const WayOfLooking way =
            betterView({&is.path(), flat(middleOf(is.path(), {pair->actual}))},
                       {&should.path(), flat(middleOf(should.path(), {pair->meant}))}, held);
        return way.asHeld() ? closerLookAtAnything() : way;
    }
    return closerLookAtAnything();
}

}  // namespace loopmend

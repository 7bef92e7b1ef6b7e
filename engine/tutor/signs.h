// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "reading/read.h"
#include "tutor/page.h"
#include "tutor/standing.h"
#include "tutor/words.h"

namespace loopmend {

/// Something pointed at that counts, and what sign it is: two of one kind are one sign.
struct Evidence {
    enum class Kind { openLoop, rungs, seenFromRight, seenFromWrong, bareStrand, strandSize };
    Kind kind = Kind::openLoop;
    PointTarget target;
    std::string words;
};

/// What is needed to say something of a place of the cloth.
struct Scene {
    AsSeen view;
    const Standing& standing;
    const StitchPlaces& places;
    const Reading& reading;  ///< from the side she sees
};

/// Signs that the cloth has to show, each kind once.
std::vector<Evidence::Kind> signsToBeSeen(const Scene& scene);
/// Whether the target is a sign that something is not as meant; none if it is not.
std::optional<Evidence> signAt(const Scene& scene, const PointTarget& target);

/// Where it all began: the open loop, else the lowest stitch worked otherwise than meant, else the strand
/// that should have become a stitch. Empty: nothing is wrong.
std::vector<PointTarget> roots(const Scene& scene);
/// It began with the join of a round: `roots` is the whole edge of a cast-on that winds about the needle.
bool isWound(const Scene& scene);
/// The same where several things went wrong apart from each other: the roots of each, the open loops first.
std::vector<std::vector<PointTarget>> rootPlaces(const Scene& scene);
bool isRoot(const Scene& scene, const PointTarget& target);

/// What lies there and, if it is not the root, how the root lies from it: `That one is on the needle...`.
std::string aboutTarget(const Scene& scene, const PointTarget& target);
/// The loop stands open, or did until it was pinned or taken on the hook. (A loop on the needle does not.)
bool wasOpen(const Scene& scene, LoopId loop);
/// What a loop looks like, from the side she sees: `a V`, `a bump`.
std::string lookWords(const Scene& scene, LoopId loop);

}  // namespace loopmend

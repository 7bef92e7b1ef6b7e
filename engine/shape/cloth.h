// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "fabric/fabric.h"
#include "shape/layout.h"
#include "shape/path.h"
#include "shape/relax.h"

/// The cloth as it lies on the table.
namespace loopmend {

/// What is knitted with: for the yarn that a fabric is made of (`Yarn::loopUm`, `strandUm`), and for how
/// thick it lies.
struct YarnSpec {
    double tex = 400;            ///< g per km; 400 is a yarn of 250 m to 100 g
    double needleMm = 5;         ///< across
    double fibreDensity = 1.31;  ///< g/cm3; wool
    double packing = 0.22;       ///< share of fibre in the hard core that nothing enters

    /// Diameter of the hard core, mm: sqrt(4 tex / (1000 pi density packing)).
    double coreMm() const;
    /// Yarn in a stitch: 1.14 times once round needle and yarn, mm. Near the ball bands' gauges between 250
    /// and 500 tex.
    double stitchYarnMm() const;
    std::int32_t loopUm() const;    ///< four fifths of it
    std::int32_t strandUm() const;  ///< the rest
};

struct ClothOptions {
    double coreMm = 0;  ///< across the hard core of the yarn; 0: 1/17.5 of a stitch's yarn. Held between 1/22
                        ///< and 1/16 of it: outside of that a piece falls apart or jams
    std::uint64_t seed = 0;    ///< hands make no two loops of one length; 0: all as the fabric says
    double unevenness = 0.03;  ///< so much longer or shorter at most, with a seed
    int threads = 2;           ///< the cloth is the same for any number
    bool relaxed = true;       ///< false: the drawn template is shown
    int mostSteps = 1500;      ///< of one relaxation from cold
};

/// The gauge of a fabric's first yarn: 4.2 stitches and 5.45 rows to a stitch's yarn, mm.
Gauge gaugeOf(const Fabric& fabric, const ClothOptions& options = {});

/// A fabric's yarn as it lies. First drawn by the template (path.h), then relaxed step by step; after a hand
/// move the neighbourhood alone. Always a picture of the right knot: a relaxation that would lose a crossing
/// is thrown away.
///
/// Not for two threads at once. The fabric is not kept.
class Cloth {
  public:
    /// Drawn at once, nothing relaxed yet. Never fails: any fabric.
    static Cloth drawn(const Fabric& fabric, const ClothOptions& options = {});
    Cloth(Cloth&&) noexcept;
    Cloth& operator=(Cloth&&) noexcept;
    ~Cloth();

    /// As it lies now, mm; about 14 points a stitch. Yarns, then tools.
    const Path& path() const;
    /// Of the template. A piece at rest lies somewhat elsewhere.
    const Layout& layout() const;

    /// Relaxes further, for one picture of an animation. False: it lies still.
    bool advance(int steps);
    /// Relaxes until it lies still.
    void settle();

    /// After hand moves or an undo on the same fabric (entries keep their ids). What changed is found here.
    /// path() shows the changed fabric at once; `advance` moves the neighbourhood to rest.
    void follow(const Fabric& changed);

    /// What the cloth would look like after a move, not relaxed: for a ghost over it. `changed`: the entries
    /// that would be new or otherwise worked.
    struct Tried {
        Path path;
        std::vector<EntryId> changed;
    };
    Tried tried(const Fabric& after) const;

    /// Why a relaxation was thrown away; the template is shown instead. None: all is well.
    const std::optional<RelaxFault>& fault() const;
    /// Loops that slipped out of others when they relaxed, and were made to cling to where they are drawn the
    /// next time.
    int heldAsDrawn() const;
    /// Of the relaxation under way or done last.
    RelaxFigures figures() const;

  private:
    struct State;
    explicit Cloth(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

/// For an animation that does not relax: `to` with every entry that both have moved back toward where it lay
/// in `from`. share 0: there; 1: `to`. Strands may pass through each other on the way.
Path between(const Path& from, const Path& to, double share);

}  // namespace loopmend

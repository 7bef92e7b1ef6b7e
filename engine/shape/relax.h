// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "shape/geometry.h"

/// Yarn at rest. Strands are rods: almost inextensible, bending, with a hard core that nothing enters. They
/// know nothing of loops; relax_path.h makes them from the drawn path of a fabric and back.
///
/// Units: lengths are those of the caller (mm, if they come from a path). Inside, the contact radius of the
/// yarn, Rods::unit, is 1, bending stiffness is 1 radius^2 x force, a step of the solver moves no point
/// farther than RelaxOptions::step. So a piece with all lengths doubled relaxes to the same shape.
///
/// The contact thickness is that of the hard core (a loop is about 17 core diameters long); a picture may
/// draw a woollen yarn twice as thick.
///
/// No yarn passes through another: a step moves every point by less than 0.45 of the smallest distance
/// between two strands, so that no pair can meet during it. The distance is that of the centre lines; pieces
/// of one yarn nearer than 2.2 diameters along it are left alone (thickness locking, Gomez-Nogales et al.,
/// arXiv:2510.10256). A start whose strands touch nearly is first pulled apart along z, the plan view
/// unchanged.
namespace loopmend {

/// A piece of yarn or a tool.
struct Rod {
    double radius = 1;           ///< of the hard core
    std::vector<Point3> points;  ///< about evenly spaced
    std::vector<double> rest;  ///< length of the piece after each point; the last one counts only if `around`
    std::vector<double> bent;  ///< curvature (1/length) of the shape whose set the yarn takes on, by point.
                               ///< Empty: that of the start
    std::vector<std::uint8_t> fixed;  ///< by point: does not move. Empty: all are free
    std::vector<double> grip;  ///< by point: a pull up to this (inner units) does not move it, from the first
                               ///< step on, as wool clings where hands have laid it. Empty: none
    bool around = false;       ///< periodic: goes on at its first point, one period to the right
};

struct Rods {
    double unit = 1;  ///< the yarn's contact radius
    double periodX =
        0;  ///< of a patch that repeats without end; 0: a piece with edges. Relaxes with the yarn
    double periodY = 0;
    std::vector<Rod> rods;
};

struct RelaxOptions {
    double stretch = 50;     ///< force for doubling the length, in units of bending stiffness / radius^2
    double contact = 10;     ///< force per radius of overlap
    double flatten = 0.002;  ///< pulls toward z = 0 as a table and hands do; 0: free to curl
    double set = 0.35;       ///< share of Rod::bent that the yarn has taken on for good
    double friction = 0.25;  ///< of yarn on yarn, once the piece has settled; 0: none ever
    double rampFrom = 0.45;  ///< share of the thickness at the start ...
    int ramp = 200;          ///< ... growing to 1 over so many steps
    int settle = 300;  ///< so many further steps without friction at least, three times so many at most,
                       ///< until the force is small: hands that pat the piece into shape
    int most = 1500;   ///< steps in all
    double restForce = 3e-4;  ///< root mean square force at which the piece lies still
    double step = 0.15;       ///< longest move of a point in one step, in radii
    int threads = 2;          ///< the result is the same for any number
    bool pullApart = true;    ///< before the first step
    bool alarm = true;        ///< compare every planned crossing before and after (local Gauss integrals)
};

/// What was measured on the way. Distances of strands in units of their contact distance (sum of the radii).
struct RelaxFigures {
    int steps = 0;
    bool atRest = false;
    double energy = 0;       ///< stretch + bending + contact (+ flattening), inner units
    double force = 0;        ///< root mean square over the free points, after friction
    double everNearest = 1;  ///< smallest distance in any step
    double nearest = 1;      ///< smallest distance at the end
    double worstReach =
        0;              ///< largest of 2 x longest move / smallest distance; below 1: nothing passed through
    double strain = 0;  ///< largest relative change of length of a piece at the end
    double meanStrain = 0;  ///< mean of its size
    int rebuilds = 0;       ///< of the list of neighbours
    int crossings = 0;      ///< compared by the alarm
};

/// Why a relaxation cannot be shown.
struct RelaxFault {
    enum class Kind : std::uint8_t {
        badRods,          ///< a rod without length, or sizes that do not fit
        strandsTouch,     ///< strands lie in one another at the start, and cannot be pulled apart
        crossingChanged,  ///< a planned crossing is not what it was
        loopSlipped       ///< a loop came out of the loop that it was drawn through (relax_links.h)
    };
    Kind kind = Kind::badRods;
    Point3 where;
    int count = 0;  ///< how many crossings changed
};
/// One sentence for a person.
std::string sentence(const RelaxFault& fault);

/// Curvature of a rod's points as they lie, smoothed along it: a drawn path has corners that no yarn has.
std::vector<double> curvatureOf(const Rod& rod);

struct Relaxed {
    Rods rods;
    RelaxFigures figures;
};

/// A relaxation in steps, for a window that shows it on the way. Not for two threads at once.
class Relaxing {
  public:
    /// badRods and strandsTouch come here.
    static tl::expected<Relaxing, RelaxFault> begin(const Rods& rods, const RelaxOptions& options = {});
    Relaxing(Relaxing&&) noexcept;
    Relaxing& operator=(Relaxing&&) noexcept;
    ~Relaxing();

    /// Takes so many more steps, fewer when the piece comes to rest or `most` is reached. False: it is done.
    bool advance(int steps);
    Rods rods() const;
    RelaxFigures figures() const;
    /// The alarm: crossingChanged, or nothing wrong.
    tl::expected<void, RelaxFault> check() const;

  private:
    struct State;
    explicit Relaxing(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

/// From a start to rest. Deterministic. A relaxation that has lost a crossing is a fault, never a result.
tl::expected<Relaxed, RelaxFault> relax(const Rods& rods, const RelaxOptions& options = {});

}  // namespace loopmend

// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "reading/courses.h"
#include "reading/naming.h"
#include "reading/script.h"

/// How a fabric is read back (see script.h): row by row, item by item, each family of operations in a file of
/// its own; then the rows are put together into steps.
namespace loopmend {

/// A step before neighbours are joined. over: the stitch before it was passed over it.
struct ScriptRaw {
    Step step;
    LoopId loop;
    bool over = false;
    bool left = false;  ///< the loop that a bind-off left, put on a holder with what follows
};

class ScriptReader {
  public:
    ScriptReader(const Fabric& fabric, const Courses& courses, ScriptReading& out)
        : f_(fabric), c_(courses), out_(out) {
        stepOf_.assign(static_cast<std::size_t>(f_.entryCount()), {-1, -1});
    }

    void run();

  private:
    struct StepPlace {
        std::int32_t row;
        std::int32_t index;
    };
    struct HeldTurns {
        LoopId loop;
        int turns;
    };

    std::size_t at(EntryId e) const { return static_cast<std::size_t>(e.value); }

    void unnamed(LoopId loop, std::string words) {
        out_.unnamed.push_back({loop, course_->row, loop ? stitch_ : 0, std::move(words)});
    }
    void unnamedStitch(LoopId loop);

    void add(Op op, LoopId loop, int count = 1, bool over = false);
    void add(const Step& step, LoopId loop, bool over);
    void addSlip(Op op, LoopId loop, PassId pass);
    /// The step added last is what this slip or yarn-over was.
    void remember(EntryId e);

    // Each returns how many items of the row were read, 0: it is nothing of this kind.
    void readCastOn(const Course& course);
    void readRow(const Course& course);
    void beginRow(const Course& course);
    void endRow(const Course& course);
    /// Where the yarn was led round a stitch at the end of a course: whether it went by in front first.
    bool wrapsInFront(EntryId wrap) const;
    bool wrapsByHabit() const;
    const Course* next(const Course& course) const;
    std::size_t readItem(std::size_t i);
    /// Stitches that went onto a holder: everything that lies there side by side.
    std::size_t readHeld(std::size_t i);
    std::size_t readLoop(std::size_t i);
    std::size_t readSeveralIntoOne(std::size_t i, const Links& first);
    std::size_t readPassedOverTwo(std::size_t i, const Links& first);
    std::size_t readCable(std::size_t i, const Links& first);
    std::size_t readLifted(std::size_t i, const Links& links);
    std::size_t readCastOnLoop(LoopId loop);
    std::size_t readPickedUp(std::size_t i);
    std::size_t readTogetherWithSpare(LoopId loop, const Links& links);
    bool readFurtherTurn(LoopId loop);
    /// Turns of the yarn that fell beside what this item stands on or slips: before it or after it, as it
    /// comes.
    void letFall(const CourseItem& item, bool afterwards);
    std::vector<LoopId> castOnEdge() const;
    std::vector<LoopId> boundOffEdge(LoopId loop) const;
    std::vector<LoopId> edgeBelow(LoopId top, bool near) const;
    std::vector<LoopId> sideEdge(std::size_t from, std::size_t to) const;
    bool endsAtEdge(LoopId loop, bool near) const;

    /// The last of the stitches worked before this item, and whether it is `loop` that the next one takes.
    LoopId workedBefore(std::size_t i) const;
    bool takenNext(std::size_t i, LoopId loop) const;
    /// Loops of this very row that go through a host, the chain of a bind-off not counted.
    int kidsInRow(LoopId host) const;
    bool hasOlderKid(LoopId host) const;
    std::uint8_t yarnIndex(YarnId yarn);
    /// The step added last is worked with this yarn, which begins it at `first`.
    void setYarn(YarnId yarn, EntryId first);

    /// The first of those worked together may be the loop that a bind-off left.
    bool leftByBindOff(const Links& links) const;
    bool sharedOrCrossed(LoopId host) const;
    template <class Visit>
    void eachCrossing(LoopId host, Visit visit) const {
        for (CrossingId x = f_[host].crossing; x;) {
            const Crossing& crossing = f_[x];
            const bool isA = crossing.a == host;
            if (crossing.sign != 0) visit(crossing, isA);
            x = isA ? crossing.nextOfA : crossing.nextOfB;
        }
    }
    int crossingsOf(LoopId host) const;
    static int windOfFirst(const std::vector<Links>& all);
    /// Loops into one base lie in it in the order in which they were made.
    bool inOrder(LoopId host, std::vector<LoopId> made) const;

    std::vector<HeldTurns> heldTurns();
    /// Makes the steps below put a loop left leg in front, and wind it so many half turns more: the last
    /// slips knitwise, or a yarn-over the other way. False: no slip or yarn-over is there to do it.
    bool sitsTurned(LoopId loop, int wound);
    ScriptRaw& raw(StepPlace place);

    void assemble(std::size_t r);
    /// Rows of threads that join two edges are told as rows of the yarn below.
    void joinGrafts();
    /// How many stitches of one kind from `i` on make a chain of a bind-off with the one at `i`.
    static std::size_t chainFrom(const std::vector<ScriptRaw>& all, std::size_t i);

    const Fabric& f_;
    const Courses& c_;
    ScriptReading& out_;
    const Course* course_ = nullptr;
    RowStance stance_;
    int stitch_ = 0;
    int waiting_ = 0;         // stitches that the course before did not come to
    Op wrapSlip_ = Op::turn;  // and the next of them was wrapped otherwise than usual: slipped, in fact
    LoopId lastMade_;         // by the course before, in working order
    LoopId lastItem_;         // the loop of the last item read in this row
    std::vector<HeldTurns> fallen_;  // turns of the yarn that fell and are still to be told
    LoopId firstOfRound_;            // in this row
    struct RowOf {
        const Course* first;
        const Course* last;
    };
    std::vector<RowOf> courses_;                // of each row, which may go on along an edge
    std::vector<YarnId> yarns_;                 // in the order in which they are first used
    std::vector<CourseItem> items_;             // of the row being read, in working order
    std::vector<std::vector<ScriptRaw>> rows_;  // of the script
    std::vector<StepPlace> stepOf_;             // by entry: the slip or yarn-over it is
};

/// What is done without yarn is done with the yarn in hand: that of the step before it in its row, or after
/// it.
void settleYarns(std::vector<Step>& row);

}  // namespace loopmend

// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "fabric/fabric.h"

namespace loopmend {

/// How a knitter wraps: what her loops look like on the needle. None is a fault, and all give the same
/// fabric.
enum class Habit : std::uint8_t {
    western,     ///< every loop sits right leg in front
    eastern,     ///< every loop sits left leg in front
    combination  ///< purls sit left leg in front
};

/// Which leg of the next loop is entered, as the needle faces her.
enum class Leg : std::uint8_t { leading, front, back };

/// How a stitch is slipped: purlwise keeps its mount; knitwise turns a western loop eastern; from behind
/// through the back leg turns an eastern loop western. The other way round winds the legs a full turn.
enum class SlipWay : std::uint8_t { purlwise, knitwise, fromBehind };

/// Which way a made stitch is twisted: left `\`, right `/`.
enum class Hand : std::uint8_t { left, right };

/// Works stitches as a knitter says them: from the left needle's tip to the right needle, front and back,
/// left and right as the work faces her. The fabric stores what results as seen from the right side, so flat
/// and round work, mirrored (left-handed) and western, eastern and combination habits are one thing.
///
/// Every operation either is done or returns a Refusal and leaves fabric and knitter as they were. Loops and
/// strands take the ordinary lengths of the working yarn (see Fabric::addYarn); yarn-overs and made stitches
/// take shares of them. The knitter keeps no fabric of her own: she may be laid aside and made anew over a
/// reloaded one.
class Knitter {
  public:
    /// facing: the side that faces her. A knitter over a fabric that has stitches goes on where its needle
    /// stands.
    Knitter(Fabric& fabric, YarnId yarn, Side facing = Side::right, bool round = false,
            Habit habit = Habit::western, bool mirrored = false);

    // ---- where she is
    // ---------------------------------------------------------------------------------------

    Fabric& fabric() { return *fabric_; }
    const Fabric& fabric() const { return *fabric_; }
    Side facing() const { return facing_; }
    bool inTheRound() const { return round_; }
    bool mirrored() const { return mirrored_; }
    Habit habit() const { return habit_; }
    /// The side on which the floats of a further colour lie.
    Side floats() const { return floats_; }
    YarnId yarn() const { return yarn_; }
    /// Goes on with another yarn (a further colour). Its floats lie on `floats`, as the right side shows it.
    void takeYarn(YarnId yarn, Side floats = Side::wrong);
    /// The same, for blocks of colour: the yarn is first led round the one that is left, on the side of the
    /// floats, so that the blocks hold together. Its strand goes by what the last stitch stands on. A yarn
    /// that has worked in this row floats across anyway. Refused: nothing worked in this row to link with.
    Result<void> takeYarnLinked(YarnId yarn);
    /// How much yarn her stitches take, in percent of an ordinary loop and strand of the yarn: another needle
    /// size, a hand that is tight or slack. Loops that stand already keep theirs.
    struct Tension {
        std::int32_t loop = 100;
        std::int32_t strand = 100;
    };
    Tension tension() const { return tension_; }
    void setTension(Tension tension) { tension_ = tension; }
    /// The yarns that lie at hand, numbered as a script numbers them; none: the one in her hand alone.
    const std::vector<YarnId>& yarnsAtHand() const { return atHand_; }
    void layOut(std::vector<YarnId> yarns) { atHand_ = std::move(yarns); }
    /// Takes up the yarn with that number. Refused: there is none.
    Result<void> takeUp(int number, bool link);
    /// The way the yarn runs in this row, as seen from the right side.
    Run run() const { return run_; }
    /// Stitches still to work in this row, from the tip on. A stitch doubled at a turn is one stitch: the
    /// strand pulled up over the needle beside it (see `isDoubling`) is left out, here and in `behind`.
    std::vector<LoopId> ahead() const;
    int aheadCount() const;
    /// Stitches on the right needle, the one nearest the tip last.
    std::vector<LoopId> behind() const;
    /// The second leg of a doubled stitch: a loop without links that the yarn made right after turning in the
    /// stitch beside it. With that stitch gone from the needle it is a loop like any other.
    bool isDoubling(LoopId loop) const;
    /// Something of the row in hand could be taken back.
    bool rowBegun() const;
    /// The loop was worked in the row in hand.
    bool inThisRow(LoopId loop) const;

    // ---- rows
    // ----------------------------------------------------------------------------------------------

    /// Turns the work. In mid-row this is an unplanned turn (or a short row): the rest stays where it is.
    void turn();
    /// Ends a round: everything on the needle comes round again. Refused flat, or with stitches left.
    Result<void> endRound();
    /// Joins the cast-on into a round; twist: half turns of the band.
    Result<void> joinRound(int twist = 0);

    // ---- casting on
    // ----------------------------------------------------------------------------------------

    /// Half-hitches on the needle. Each is knotted at its foot; on the needle it sits with one half turn.
    Result<void> castOnBackward(int n, Hand hand = Hand::left);
    /// The yarn's first end makes the hitches, the ball's end the loops through them: already one knitted
    /// row.
    Result<void> castOnLongTail(int n);
    /// Each loop is drawn through the one before it. On an empty needle it begins with a slip knot, which is
    /// the first stitch; else the first loop is drawn through the next stitch, and all come to lie before it
    /// on the left needle.
    Result<void> castOnKnitted(int n);

    // ---- one into one
    // --------------------------------------------------------------------------------------

    Result<LoopId> knit(Leg leg = Leg::leading) { return work(1, false, leg); }
    Result<LoopId> purl(Leg leg = Leg::leading) { return work(1, true, leg); }
    Result<LoopId> knitTbl() { return work(1, false, Leg::back); }
    Result<LoopId> purlTbl() { return work(1, true, Leg::back); }
    /// One stitch with the yarn going `turns` times round the needle: a stitch, then the further turns. Each
    /// of them is a loop without links that takes as much as a stitch, and lies close to the one before it:
    /// the strand between is `kTurnStrand` of an ordinary one. Returns the last loop.
    Result<LoopId> wrapped(int turns, bool purl);
    /// The next loop falls off the needle. A wrap gives its yarn to the stitch that it belongs to; a
    /// yarn-over or a bar is slack; a stitch hangs where it fell, and may run.
    Result<void> letFall();
    /// Passes a stitch to the right needle; the yarn goes by behind it or in front of it.
    Result<LoopId> slip(SlipWay way, bool yarnInFront);
    /// n stitches together through one leg of each, just as they sit.
    Result<LoopId> work(int n, bool purl, Leg leg);

    // ---- yarn-overs
    // ----------------------------------------------------------------------------------------

    /// reverse: from back to front over the needle, sits left leg in front. How much of a turn round the
    /// needle it takes depends on where the yarn comes from and goes to: half a turn between purl and knit,
    /// one between two alike, one and a half between knit and purl (reversed: the other way about). It is
    /// settled when the next stitch is worked; until then, and beside a turn, it has one turn. A turn takes
    /// two thirds of an ordinary loop (craft figure, adjustable: kTurnThirds).
    Result<LoopId> yarnOver(bool reverse = false);
    static constexpr std::int32_t kTurnThirds = 2;
    static constexpr std::int32_t kTurnStrand = 4;  ///< between two turns of one stitch: a quarter

    // ---- decreases (the loops that sit turned are re-mounted first, so that none twists)
    // ---------------------

    Result<LoopId> k2tog() { return openTogether(2, false); }
    Result<LoopId> p2tog() { return openTogether(2, true); }
    Result<LoopId> k3tog() { return openTogether(3, false); }
    Result<LoopId> p3tog() { return openTogether(3, true); }
    Result<LoopId> k2togTbl() { return work(2, false, Leg::back); }
    Result<LoopId> p2togTbl() { return work(2, true, Leg::back); }
    Result<LoopId> k3togTbl() { return work(3, false, Leg::back); }
    Result<LoopId> p3togTbl() { return work(3, true, Leg::back); }
    Result<LoopId> ssk() { return slippedTogether(2, false); }
    Result<LoopId> ssp() { return slippedTogether(2, true); }
    Result<LoopId> sssk() { return slippedTogether(3, false); }
    /// Slip 1, knit 1, pass the slipped stitch over. Slipped purlwise instead, the passed loop is twisted.
    Result<LoopId> skp(SlipWay way = SlipWay::knitwise);
    /// Slip 1, purl 1, pass over.
    Result<LoopId> spp(SlipWay way = SlipWay::purlwise);
    Result<LoopId> sk2p();
    Result<LoopId> sp2p();
    /// Centred double: slip 2 together knitwise, knit 1, pass both over.
    Result<LoopId> s2kp();
    /// Centred double worked on the purl side: slip 2 together through the back legs, purl 1, pass both over.
    Result<LoopId> s2pp();
    /// Slip 1, knit n, pass the slipped stitch over all of them.
    Result<LoopId> slipKnitOver(int n);
    /// Passes the stitch that lies `over` places behind the tip of the right needle over those before it.
    Result<LoopId> passOver(int over = 1);

    // ---- increases
    // -----------------------------------------------------------------------------------------

    enum class Into : std::uint8_t { knit, purl, knitOtherLeg, purlOtherLeg, yarnOver };
    /// Several into one stitch.
    Result<LoopId> workInto(const std::vector<Into>& sequence);
    Result<LoopId> kfb() { return workInto({Into::knit, Into::knitOtherLeg}); }
    Result<LoopId> kpk() { return workInto({Into::knit, Into::purl, Into::knit}); }
    Result<LoopId> kyok() { return workInto({Into::knit, Into::yarnOver, Into::knit}); }
    /// Lifts the bar before the next stitch onto the left needle and works it. open: through its leading leg.
    Result<LoopId> makeOne(Hand hand, bool purl = false, bool open = false);
    /// Lifts the bar before the next stitch onto the left needle. turned: left leg in front.
    Result<LoopId> liftBar(bool turned);
    /// One more loop out of an older stitch, 0 -> 1: the head of the stitch under the next one (right; that
    /// one is still to be worked) or the stitch two under the last one worked (left).
    Result<LoopId> liftedLoop(Hand hand, bool purl = false);
    /// The whole increase: right, the lifted loop and then the next stitch, knitted; left, the loop alone.
    Result<LoopId> liftedIncrease(Hand hand);

    // ---- crossings
    // -----------------------------------------------------------------------------------------

    /// Moves the next `over` stitches past the following `under` ones, held in front or behind. The stitches
    /// are then worked as they come.
    Result<void> cross(int over, int under, bool front);

    // ---- into older loops, edges, turns
    // ----------------------------------------------------------------------

    /// Into the stitch one row under; the top loop is dropped into it.
    Result<LoopId> workBelow(bool purl);
    /// A new loop under a part of an edge loop, drawn toward `toward`.
    Result<LoopId> pickUp(LoopId edge, Part part, Side toward);
    /// n new loops under whole stitches of an edge, drawn toward the side that faces her, spread evenly over
    /// `edge` in that order. More than there are: some are entered twice, then under their outer leg alone.
    Result<void> pickUpAlong(const std::vector<LoopId>& edge, int n);
    /// The rows' ends beside the stitch worked last, from it downward; if it does not stand at an edge (or
    /// was picked up itself), those that lead up to the stitch worked next, or to the first of the round. One
    /// loop for every row; of an edge slipped in every other row, one for every chain. Empty: there is none.
    std::vector<LoopId> sideEdge() const;
    /// The edge of the cast-on, as she comes to it with the work turned upside down; that of the newest
    /// bind-off, as she comes to it along its top.
    std::vector<LoopId> castOnEdge() const;
    std::vector<LoopId> boundOffEdge() const;
    /// Leads the yarn round the next stitch, which stays, and turns. frontFirst: it goes by in front, then
    /// back behind the stitch; not said: in front after a knit, behind after a purl, so that what shows is
    /// on the side of the Vs.
    Result<void> wrapAndTurn(std::optional<bool> frontFirst = std::nullopt);
    /// Lifts the wraps of the next stitch onto the needle and works all together; the stitch lies in front on
    /// the side of its V. Not said: purled if the wrong side faces her.
    Result<LoopId> workWithWrap(std::optional<bool> purl = std::nullopt);
    /// Lifts the strands of other yarns that lie across the next stitch onto the needle, as it stands in the
    /// row below, and works all together: so floats are caught. The stitch lies in front on the side of its
    /// V. Refused: no such strand lies there.
    Result<LoopId> workWithFloat(bool purl);
    /// Right after a turn: slips the first stitch and pulls the yarn up over the needle, so that it shows two
    /// legs. Returns the second one.
    Result<LoopId> doubleStitch();
    /// Turns and doubles the first stitch.
    Result<LoopId> germanTurn();
    /// Works both legs of a doubled stitch as one.
    Result<LoopId> workDoubled(bool purl);

    // ---- binding off, leaving
    // ------------------------------------------------------------------------------

    /// Chain bind-off of n stitches, of which the last one worked in this row is the first (none: the next);
    /// the loop left after the last one stays on the right needle.
    Result<void> bindOff(int n, bool purl = false);
    /// Binds off everything and fastens the last loop; the yarn is cut.
    Result<void> bindOffAll(bool purl = false);
    /// Leaves the next n stitches on a holder.
    Result<ToolId> leaveOnHolder(int n);
    /// Chain bind-off of n stitches, each knitted together with one of the newest holder or spare needle that
    /// has stitches, as with both pieces held face to face: from its left end if the right side faces her,
    /// from its right end if the wrong side does. The loop left after the last one stays on the right needle.
    Result<void> bindOffTogether(int n);
    /// One such stitch, without the chain.
    Result<LoopId> knitWithSpare();
    /// The stitches that would be taken, in that order.
    std::vector<LoopId> spareStitches() const;
    /// Draws the yarn through the last loop on the right needle and cuts it.
    Result<void> fasten();

    // ---- taking back
    // ---------------------------------------------------------------------------------------

    /// Takes back the last stitch: its loops come back to the left needle, the yarn to the ball. A slipped
    /// stitch goes back. Hands' undo: a lifted bar stays on the needle.
    Result<void> tink();
    /// Goes back behind the end of the row before (of a piece bound off to its end: the last loop is opened
    /// first): its stitches lie on the right needle again, and its side
    /// faces her.
    Result<void> backOneRow();
    /// Columns that were crossed in the row taken back lie crossed on the left needle: uncrosses them.
    /// Returns how many pairs.
    int uncross();
    /// Slips the last stitch back to the left needle, purlwise; a strand laid past it in passing is taken
    /// back.
    Result<void> slipBack();
    /// Lets a loop fall off the needle; the needle remembers where it hung.
    Result<void> drop(LoopId loop);
    /// Sets a mount as hands do, without winding the legs.
    Result<void> remount(LoopId loop, Mount mount);

    /// What an operation that is refused in its middle goes back to, and an undo of whole rows needs.
    struct State {
        JournalMark fabric;
        Side facing;
        bool round;
        YarnId yarn;
        Side floats;
        Tension tension;
        std::vector<YarnId> atHand;
    };
    State mark();
    void rollBack(const State& state);

    /// Does all of an operation or nothing of it.
    template <class Operation>
    auto whole(Operation operation) -> decltype(operation());

  private:
    HeldId aheadPlace() const;
    HeldId nextAhead(HeldId place) const;
    HeldId behindPlace() const;
    HeldId nextBehind(HeldId place) const;
    std::int32_t nextHeld(int n, std::vector<HeldId>& places) const;
    void passHanging(HeldId from, HeldId until);
    HeldId putOnRight(LoopId loop, Mount mount, std::int8_t turns = 0);
    bool openFastening();
    HeldId putOnLeft(LoopId loop, Mount mount, std::int8_t turns = 0);
    void moveTipPast(HeldId place);
    void moveTipBack(HeldId place);
    HeldId backToStitch();
    void comeToNewest();
    bool isBehind(LoopId loop) const;
    bool isKept(LoopId loop) const;
    HeldId sitsBeside(LoopId leg) const;
    bool turnedIntoRow() const;
    PassId wrapAtTurn() const;
    void putBeside(LoopId strand, HeldId stitch, bool purl);
    bool floatGoesBack(LoopId bare, const std::vector<LoopId>& together);
    bool wrapGoesBack(LoopId bare, const std::vector<LoopId>& together);
    LoopId castOnLast() const;
    bool waits(LoopId loop) const;
    void spareGoesBack(LoopId loop);
    std::vector<PassId> wrapsOf(LoopId stitch) const;
    bool endsAtEdge(LoopId loop, bool near) const;
    std::vector<LoopId> edgeBelow(LoopId top, bool near) const;
    template <class WorkOne>
    Result<void> chainOff(int n, WorkOne workOne);
    void takeInTails();
    Result<LoopId> newLoop(std::int32_t um);
    void settleYarnOver(bool toFront);
    void unsettleYarnOver(YarnId yarn);
    void giveHalfTurns(LoopId loop, int halfTurns);
    LoopId yarnOverLast(YarnId yarn) const;
    bool isTurn(LoopId loop) const;
    void layFloats();
    void layFloatPast(LoopId loop);
    bool floatsOverJoin();
    bool wentOverJoin(PassId pass) const;
    std::int32_t ordinaryUm() const;
    std::int32_t smallUm() const;
    std::int32_t ordinaryStrandUm() const;
    Mount mountOf(Mount hers) const { return mirrored_ ? opposite(hers) : hers; }
    Mount wrapMount(bool purl) const;
    bool sitsTurned(HeldId place) const;
    std::int8_t twistOf(HeldState state, bool back) const;
    Side sideOf(bool purl) const { return purl ? opposite(facing_) : facing_; }
    Side yarnSide(bool inFront) const { return inFront ? facing_ : opposite(facing_); }
    std::int8_t place(int i) const;
    std::int32_t forwardSlot() const { return run_ == Run::leftward ? -1 : 0; }
    Result<LoopId> workOne(bool purl, Leg leg);
    Result<LoopId> workMany(int n, bool purl, Leg leg);
    Result<LoopId> openTogether(int n, bool purl);
    Result<LoopId> slippedTogether(int n, bool purl);
    Result<LoopId> slipTwoTogether(Mount hers);
    /// placeFromTip: the passed stitch's place among what it comes to lie with; 0: behind all of it.
    Result<LoopId> passOverAt(int over, std::int8_t placeFromTip);
    void startRow();

    Fabric* fabric_;
    YarnId yarn_;
    Side facing_;
    Run run_;
    bool round_;
    Habit habit_;
    bool mirrored_;
    Side floats_ = Side::wrong;
    Tension tension_;
    std::vector<YarnId> atHand_;
};

template <class Operation>
auto Knitter::whole(Operation operation) -> decltype(operation()) {
    const State before = mark();
    auto result = operation();
    if (!result) rollBack(before);
    return result;
}

}  // namespace loopmend

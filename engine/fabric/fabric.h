// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <vector>

#include "fabric/journal.h"
#include "fabric/pool.h"
#include "fabric/records.h"
#include "fabric/refusal.h"

namespace loopmend {

/// Where on a yarn a new loop appears.
enum class End : std::uint8_t { first, last };

/// A knitted fabric as loops, passes, tools and crossings, changed only by the primitives below.
///
/// Each primitive is local, refuses what hands could not do (and then changes nothing), and is kept in a
/// journal: `mark`, any number of primitives, `rollBack` gives back exactly the fabric that was marked.
/// Directions are as seen from the right side. Lengths are whole micrometres. A fabric may be copied; one
/// fabric is not for two threads.
class Fabric {
  public:
    Fabric();

    // ---- yarns and tools
    // -------------------------------------------------------------------------------------

    /// A new yarn with nothing worked of it. loopUm and strandUm: an ordinary loop and strand on its needle.
    YarnId addYarn(char colour, std::int32_t loopUm, std::int32_t strandUm);
    /// Whether the last end runs to a ball. Ending a ball is cutting the yarn behind its last loop.
    void setBall(YarnId yarn, bool ball);
    ToolId addTool(ToolKind kind);
    /// The knitter's needle: both tips and the work between them, one order from right to left.
    ToolId needle() const { return ToolId{0}; }
    /// Moves the gap between the two tips: the loops from `firstOnLeft` on lie to the left of it.
    void setTip(HeldId firstOnLeft);

    // ---- the primitives
    // --------------------------------------------------------------------------------------

    /// lift from the ball: a loop without links at an end of a yarn.
    Result<LoopId> liftFromBall(YarnId yarn, Run run, std::int32_t um, std::int32_t strandUm,
                                End end = End::last);
    /// lift in a strand: a loop without links after `after` (none: before the yarn's first entry). It takes
    /// um of the strand's yarn; strandAfterUm of the rest comes to lie after it (-1: half).
    Result<LoopId> liftInStrand(YarnId yarn, EntryId after, Run run, std::int32_t um,
                                std::int32_t strandAfterUm = -1);
    /// The inverse of lift: a loop through which nothing goes and that goes through nothing vanishes into its
    /// strand. Strands that went by it go by nothing. (Lifted from the ball: `reelIn` then gives the yarn
    /// back.)
    Result<void> sink(LoopId loop);
    /// What lies slack after the last loop goes back to the ball, and the marks in it with it.
    void reelIn(YarnId yarn);

    /// Draws a live loop through one more host. slot: its place from right to left among the host's links
    /// (-1: last, that is left-most). The pass this makes idle goes.
    Result<LinkId> pull(LoopId loop, LoopId host, LinkForm form, std::int32_t slot = -1);
    /// Undoes the last link of a live loop and names the host it came out of.
    Result<LoopId> unpull(LoopId loop);

    /// Puts a loop on a tool, before `before` in its order (none: at the left end). The place it may have
    /// kept hanging there is given up, or taken again if `before` is that very place.
    Result<HeldId> hold(LoopId loop, ToolId tool, HeldId before, Mount mount, std::int8_t turns = 0);
    /// Takes a loop off a tool. keepPlace: the tool remembers where it hung, unless another one fixes it.
    Result<void> letGo(LoopId loop, ToolId tool, bool keepPlace);
    /// let go and hold in one: the place of a held loop, which no other tool holds, goes to another loop that
    /// nothing holds yet. What a plain stitch does to the needle.
    void passOn(HeldId held, LoopId to, Mount mount);
    /// Gives up a hanging place.
    void forgetPlace(HeldId held);
    /// Changes how a held loop sits.
    void setMount(HeldId held, Mount mount, std::int8_t turns);
    /// Keeps a hanging place for a loop, before `before` on that tool.
    HeldId hang(LoopId loop, ToolId tool, HeldId before);

    /// Two columns change places: `right` stood on the right, `front` (one of the two) goes in front. If both
    /// are neighbours on one tool, that tool's order changes with them.
    Result<void> cross(LoopId right, LoopId left, LoopId front);

    /// Sewing under a loop that already stands: that loop gets a link through the new one, at place `at` of
    /// its links.
    struct Under {
        LoopId loop;
        LinkForm form;
        std::int32_t at = 0;
    };
    struct Through {
        LoopId host;
        LinkForm form;
        std::int32_t slot = -1;
    };
    /// At a cut end only: a loop is sewn in, through hosts and under loops that already stand. Refused: a
    /// host that stands on one of those.
    Result<LoopId> thread(YarnId yarn, Run run, std::int32_t um, const std::vector<Through>& hosts,
                          const std::vector<Under>& unders);
    /// Draws a sewn or cut-free loop out sideways: the links through it go too.
    Result<void> unthread(LoopId loop);

    /// Cuts the strand after `after`; the rest becomes a new yarn, which keeps the ball. O(entries of the
    /// rest).
    Result<YarnId> cut(EntryId after);
    /// Joins the last end of `yarn` to an end of `other`, which is then gone. O(entries of `other`).
    Result<void> join(YarnId yarn, YarnId other, End otherEnd);

    /// Moves um of yarn from one loop to another of the same yarn.
    Result<void> ease(LoopId from, LoopId to, std::int32_t um);
    /// The last loop before the ball takes um from it (gives it back: um < 0).
    Result<void> easeFromBall(LoopId loop, std::int32_t um);
    /// Moves um out of the strand after `before` into a loop of the same yarn (back into the strand: um < 0).
    Result<void> easeFromStrand(LoopId before, LoopId loop, std::int32_t um);
    /// Cuts off what hangs free at an end of a yarn that has no ball there.
    Result<void> trim(YarnId yarn, End end);

    /// Lays the strand after `after` past a loop, on a side. below: the pass that it shall lie under in that
    /// loop's strands (none: on top).
    Result<PassId> lay(YarnId yarn, EntryId after, LoopId loop, Side side, Run run, PassId below = {});
    /// Takes a pass away.
    Result<void> unlay(PassId pass);
    void setPassSide(PassId pass, Side side);
    /// All strands that go by `from` go by `to` now, above those that do already. O(1) where `to` has none.
    void handStrandsOn(LoopId from, LoopId to);
    /// The strands of `from` from `lowest` upward go by `to` now; those below stay.
    void handStrandsOnFrom(LoopId from, PassId lowest, LoopId to);

    void setAnchored(LoopId loop, bool anchored);
    void addJoin(LoopId after, std::int32_t twist);
    /// Joins that name `loop` name `heir` from now on.
    void handJoinsTo(LoopId loop, LoopId heir);

    // ---- notes (never used to decide what runs or how it reads)
    // ---------------------------------------------

    void setRowEnds(EntryId entry, bool ends);

    // ---- the journal
    // -----------------------------------------------------------------------------------------

    JournalMark mark();
    void rollBack(const JournalMark& mark);
    /// Drops the journal (a checkpoint is the text of the fabric); older marks are void.
    void forgetJournal();
    std::size_t journalBytes() const { return journal_.bytes(); }
    std::size_t bytes() const;

    // ---- looking
    // ---------------------------------------------------------------------------------------------

    const Entry& operator[](EntryId id) const { return entries_.at(index(id)); }
    const Link& operator[](LinkId id) const { return links_.at(index(id)); }
    const Strands& operator[](StrandsId id) const { return strands_.at(index(id)); }
    const Held& operator[](HeldId id) const { return held_.at(index(id)); }
    const Tool& operator[](ToolId id) const { return tools_.at(index(id)); }
    const Yarn& operator[](YarnId id) const { return yarns_.at(index(id)); }
    const Crossing& operator[](CrossingId id) const { return crossings_.at(index(id)); }
    const Join& operator[](JoinId id) const { return joins_.at(index(id)); }

    std::int32_t entryCount() const { return static_cast<std::int32_t>(entries_.size()); }
    std::int32_t yarnCount() const { return static_cast<std::int32_t>(yarns_.size()); }
    std::int32_t toolCount() const { return static_cast<std::int32_t>(tools_.size()); }
    std::int32_t crossingCount() const { return static_cast<std::int32_t>(crossings_.size()); }
    std::int32_t joinCount() const { return static_cast<std::int32_t>(joins_.size()); }
    bool has(EntryId id) const { return id && id.value < entryCount() && !(*this)[id].flags.gone; }

    bool isLoop(EntryId id) const { return !(*this)[id].flags.pass; }
    Run run(EntryId id) const { return static_cast<Run>((*this)[id].flags.run); }
    Side passSide(PassId id) const { return static_cast<Side>((*this)[id].flags.passSide); }
    /// The loop that a pass goes by.
    LoopId passed(PassId id) const { return (*this)[(*this)[id].goingBy].loop; }
    /// No loop goes through it.
    bool isLive(LoopId id) const { return !(*this)[id].firstKid; }
    /// On a tool (a hanging place is not held).
    bool isHeld(LoopId id) const;
    /// The place a loop has on a tool, hanging or held; none if it has none there.
    HeldId heldOn(LoopId id, ToolId tool) const;
    /// A tool that fixes the strands going by a loop (a pin or hook does not).
    bool fixes(ToolId tool) const;
    /// A pass that is only a mark: the loop it names stands open, so the strand lies on either side.
    bool isFree(PassId id) const { return isOpen(passed(id)); }
    /// No loop through it, and no needle, holder or thread that would fix the strands going by.
    bool isOpen(LoopId id) const;
    /// Live, and nothing holds it.
    bool isLoose(LoopId id) const;
    /// A loop without links through which nothing goes, not held, not anchored: no entry in the normal form.
    bool isNothing(LoopId id) const;
    int linkCount(LoopId id) const;
    int kidCount(LoopId id) const;
    /// Loops of the fabric that are something (see isNothing), over all yarns.
    std::int32_t loopCount() const;
    std::vector<LinkId> linksOf(LoopId id) const;
    std::vector<PassId> passesOf(LoopId id) const;
    /// Hosts from right to left, each once.
    std::vector<LoopId> hostsRightToLeft(LoopId id) const;
    /// The loop before an entry along its yarn, over passes; none: the yarn's lead.
    LoopId loopBefore(EntryId id) const;
    /// Total yarn in the fabric over all yarns, µm.
    std::int64_t totalUm() const;

  private:
    friend class FabricBuilder;

    enum PoolNumber : std::uint32_t { kEntries, kLinks, kStrands, kHeld, kTools, kYarns, kCrossings, kJoins };

    template <class Tag>
    static constexpr std::uint32_t index(Id<Tag> id) {
        return static_cast<std::uint32_t>(id.value);
    }

    template <PoolNumber number, class Record, class Field>
    void writeIn(Pool<Record>& pool, std::uint32_t i, Field Record::*field, Field value) {
        static_assert(sizeof(Field) == 4);
        Record& record = pool.at(i);
        Field& place = record.*field;
        if (i < freshFrom_[number]) {
            std::uint32_t old = 0;
            std::memcpy(&old, &place, 4);
            const auto offset = static_cast<std::uint32_t>(
                (reinterpret_cast<const std::byte*>(&place) - reinterpret_cast<const std::byte*>(&record)) /
                4);
            journal_.keep(number, i * Pool<Record>::kWords + offset, old);
        }
        place = value;
    }
    template <class Field>
    void write(EntryId id, Field Entry::*field, Field value) {
        writeIn<kEntries>(entries_, index(id), field, value);
    }
    template <class Field>
    void write(LinkId id, Field Link::*field, Field value) {
        writeIn<kLinks>(links_, index(id), field, value);
    }
    template <class Field>
    void write(StrandsId id, Field Strands::*field, Field value) {
        writeIn<kStrands>(strands_, index(id), field, value);
    }
    template <class Field>
    void write(HeldId id, Field Held::*field, Field value) {
        writeIn<kHeld>(held_, index(id), field, value);
    }
    template <class Field>
    void write(ToolId id, Field Tool::*field, Field value) {
        writeIn<kTools>(tools_, index(id), field, value);
    }
    template <class Field>
    void write(YarnId id, Field Yarn::*field, Field value) {
        writeIn<kYarns>(yarns_, index(id), field, value);
    }
    template <class Field>
    void write(CrossingId id, Field Crossing::*field, Field value) {
        writeIn<kCrossings>(crossings_, index(id), field, value);
    }
    template <class Field>
    void write(JoinId id, Field Join::*field, Field value) {
        writeIn<kJoins>(joins_, index(id), field, value);
    }

    EntryId newEntry(bool pass, Run run);
    void insertAfter(EntryId entry, YarnId yarn, EntryId after);
    void removeFromYarn(EntryId entry);
    std::int32_t strandAfter(YarnId yarn, LoopId loopOrLead) const;
    void setStrandAfter(YarnId yarn, LoopId loopOrLead, std::int32_t um);
    LinkId newLink(LoopId loop, LoopId host, LinkForm form);
    void addToHost(LinkId link, std::int32_t slot);
    void removeFromHost(LinkId link);
    void addToLoop(LinkId link, std::int32_t at);
    void removeFromLoop(LinkId link);
    void dropIdlePasses(LoopId loop, LoopId host, Side side);
    void linkHeld(HeldId held, HeldId before);
    void unlinkHeld(HeldId held);
    void removeHeld(HeldId held);
    HeldId insertHeld(LoopId loop, ToolId tool, HeldId before, HeldState state);
    void dropCrossings(LoopId loop);
    bool inFrontSomewhere(LoopId from, LoopId to) const;
    StrandsId strandsOf(LoopId loop);
    void listPass(PassId pass, StrandsId list, PassId below);
    void unlistPass(PassId pass);
    void removePass(PassId pass);
    void setFlags(EntryId id, EntryFlags flags) { write(id, &Entry::flags, flags); }
    void reverse(YarnId yarn);
    bool standsOn(LoopId loop, LoopId other) const;

    Pool<Entry> entries_;
    Pool<Link> links_;
    Pool<Strands> strands_;
    Pool<Held> held_;
    Pool<Tool> tools_;
    Pool<Yarn> yarns_;
    Pool<Crossing> crossings_;
    Pool<Join> joins_;
    Journal journal_;
    std::array<std::uint32_t, 8> freshFrom_{};
};

}  // namespace loopmend

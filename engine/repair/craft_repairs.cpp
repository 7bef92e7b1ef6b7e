// SPDX-License-Identifier: MIT
#include "repair/craft_repairs.h"

#include <algorithm>
#include <array>
#include <set>

#include "fabric/hands.h"
#include "pattern/op.h"

namespace loopmend {

namespace {

struct Named {
    std::string_view id;
    std::string_view words;
    bool made;
};

constexpr std::array<Named, kCraftRepairs> kNamed = {{
    {"secure", "secure the open stitch", true},
    {"take_back", "take back stitch by stitch", true},
    {"take_back_shaped", "take back decreases, increases and yarn-overs", true},
    {"rip_rows", "take back whole rows", true},
    {"thread_then_rip", "thread a good row, then take back to it", true},
    {"lifeline", "lay in a thread", true},
    {"reseat", "put the stitch on the needle the right way round", true},
    {"one_row_up", "bring one rung up again", true},
    {"ladder_up", "hook a run up", true},
    {"ladder_up_purl", "hook a column of purls up", true},
    {"ladder_up_alternating", "hook a run up in garter or seed", true},
    {"ladder_up_rib", "hook a column of ribbing up", true},
    {"ladder_up_short", "hook short rungs up and ease yarn into them", true},
    {"drop_to_change", "let a column down to change knit and purl", true},
    {"edge_run", "hook up at the edge, two stitches out of each loop", true},
    {"untwist_below", "open a twisted stitch some rows down", true},
    {"lift_yarn_over", "lift a missed yarn-over out of the strand", true},
    {"hook_yarn_over", "lift a missed yarn-over and hook its column up", true},
    {"remove_yarn_over", "let a made loop go and ease its slack", true},
    {"close_yarn_over", "work a yarn-over shut", true},
    {"edge_doubled", "let the spare loop of an edge stitch go", true},
    {"free_split_yarn", "free the split yarn and hook the whole strand", true},
    {"free_slipped", "work a slipped stitch after all", true},
    {"free_knit_below", "free a stitch worked into the row below", true},
    {"late_decrease", "make a missed decrease after all", true},
    {"late_increase", "make a missed increase after all", true},
    {"part_caught", "part stitches caught together", true},
    {"lean_decrease", "let a decrease lean the other way", true},
    {"move_decrease", "move a decrease over", true},
    {"restack_centred", "bring the middle one of three on top again", true},
    {"move_increase", "move an increase or a yarn-over", true},
    {"twist_made", "twist a made stitch shut", true},
    {"cross_both", "cross a cable again, all its columns let down", true},
    {"cross_one_arm", "cross a cable again by one arm", true},
    {"reknit_panel", "work a panel up again", true},
    {"sew_over", "sew the right stitch over", true},
    {"swap_color", "hook the other color's strand", true},
    {"ease_snag", "ease slack back along the row", true},
    {"close_turn", "take an unplanned turn back", true},
    {"snip_and_graft", "cut one row out and sew it anew", true},
    {"fasten", "sew an open stitch down", true},
    {"untwist_join", "turn the round at its join", true},
    {"open_bind_off", "open the bind-off", true},
    {"fudge_count", "put the count right beside it", true},
    {"leave", "leave it", true},
    {"even_tension", "even the tension out", true},
    {"mend_pick_up", "pick a stitch up anew", true},
    {"sew_gap_shut", "sew a gap shut from the wrong side", true},
    {"start_again", "start again", true},
    {"weave_end", "weave an end in", true},
    {"bind_off_again", "work an edge again at another tension", true},
    {"sew_in", "sew a stitch in where the yarn broke", true},
    {"catch_float", "catch a float down", true},
    {"wash", "wash it, and judge again", true},
}};

bool isShaped(const Step& step) {
    return makes(step) != uses(step) || uses(step) > 1;
}

class Looker {
  public:
    Looker(const Plan& plan, const Fabric& meant, const Fabric& actual, const Pairing& p)
        : plan_(plan), m_(meant), a_(actual), p_(p) {
        for (const PlannedMove& move : plan.moves) count(move.move);
    }

    std::vector<CraftRepair> found() {
        byFamily();
        if (pins_ > 0) say(CraftRepair::secure);
        if (seats_ > 0 && hooks_ == 0 && plan_.family == PlanFamily::column) say(CraftRepair::reseat);
        const bool columns = plan_.family == PlanFamily::column || plan_.family == PlanFamily::block;
        if (columns || (plan_.family == PlanFamily::rip && hooks_ > 0)) {
            runs();
            wrongLoops();
            madeLoops();
            // Let down for what hangs in it (a ring), and hooked up as it was.
            said_.erase(CraftRepair::secure);
            const bool plain = said_.empty() && hooks_ > 0;
            if (pins_ > 0) say(CraftRepair::secure);
            if (plain) say(purls_ > knits_ ? CraftRepair::ladderUpPurl : CraftRepair::ladderUp);
        }
        return {said_.begin(), said_.end()};
    }

  private:
    void say(CraftRepair repair) { said_.insert(repair); }

    void count(const Move& move) {
        switch (move.kind) {
            case MoveKind::pin: ++pins_; break;
            case MoveKind::seat: ++seats_; break;
            case MoveKind::hook:
                ++hooks_;
                (move.knit ? knits_ : purls_) += 1;
                changes_ += hooks_ > 1 && move.knit != lastKnit_ ? 1 : 0;
                lastKnit_ = move.knit;
                if (move.rung == 0) ++bars_;
                break;
            case MoveKind::liftBar: ++lifts_; break;
            case MoveKind::join:
            case MoveKind::weave: say(CraftRepair::weaveEnd); break;
            case MoveKind::letRun: ++letDown_; break;
            case MoveKind::work:
                shaped_ = shaped_ || std::any_of(move.steps.begin(), move.steps.end(), isShaped);
                closed_ = closed_ || std::any_of(move.steps.begin(), move.steps.end(), [](const Step& s) {
                              return s.op == Op::knitTbl || s.op == Op::purlTbl;
                          });
                break;
            default: break;
        }
    }

    void byFamily() {
        switch (plan_.family) {
            case PlanFamily::tink:
                say(shaped_ ? CraftRepair::takeBackShaped : CraftRepair::takeBackPlain);
                break;
            case PlanFamily::rip:
                say(CraftRepair::ripRows);
                if (turnedEarly()) say(CraftRepair::closeTurn);
                edges();
                break;
            case PlanFamily::block: say(CraftRepair::reknitPanel); break;
            case PlanFamily::lifelineFirst:
                say(CraftRepair::threadThenRip);
                say(CraftRepair::lifeline);
                break;
            case PlanFamily::fudge:
                say(CraftRepair::fudgeCount);
                if (closed_) say(CraftRepair::closeYarnOver);
                break;
            case PlanFamily::duplicateOver: say(CraftRepair::sewOver); break;
            case PlanFamily::snipAndGraft: say(CraftRepair::snipAndGraft); break;
            case PlanFamily::fasten: say(CraftRepair::fasten); break;
            case PlanFamily::ease: {
                // One pulled stitch and its row, or stitches of one kind row after row.
                std::set<int> rows;
                for (const PlannedMove& move : plan_.moves) rows.insert(move.row);
                say(rows.size() > 1 ? CraftRepair::evenTension : CraftRepair::easeSnag);
                break;
            }
            case PlanFamily::wash: say(CraftRepair::wash); break;
            case PlanFamily::untwist: say(CraftRepair::untwistJoin); break;
            case PlanFamily::sewIn: say(CraftRepair::sewIn); break;
            case PlanFamily::startAgain: say(CraftRepair::startAgain); break;
            case PlanFamily::leave: say(CraftRepair::leaveIt); break;
            case PlanFamily::column: break;
        }
    }

    /// What is worked again first lies along an edge.
    void edges() {
        const bool sameKnot = p_.agrees();
        bool bound = true;
        for (HeldId h = a_[a_.needle()].first; h; h = a_[h].next) bound = bound && a_[h].state.hanging != 0;
        if (bound) say(sameKnot ? CraftRepair::bindOffAgain : CraftRepair::openBindOff);
        for (const PlannedMove& move : plan_.moves) {
            if (move.move.kind != MoveKind::work) continue;
            const std::vector<Step>& steps = move.move.steps;
            if (std::any_of(steps.begin(), steps.end(), [](const Step& s) { return s.op == Op::pickUp; }))
                say(CraftRepair::mendPickUp);
            break;
        }
    }

    /// More loops of the actual fabric run the other way at the same place of the yarn: a row was turned in
    /// its middle.
    bool turnedEarly() const {
        for (const LoopId a : p_.extra) {
            for (const bool back : {true, false}) {
                const EntryId e = back ? a_[a].prev : a_[a].next;
                if (e && a_.isLoop(e) && a_.run(e) != a_.run(a) && a_[a].firstLink && a_[e].firstLink &&
                    a_[a_[a].firstLink].host == e)
                    return true;
            }
        }
        return false;
    }

    bool atEdge() const {
        for (const PlannedMove& move : plan_.moves) {
            if (move.move.kind == MoveKind::hook && move.column == 1) return true;
        }
        return false;
    }

    /// Rungs of stitches that came out by themselves.
    void runs() {
        if (hooks_ == 0) return;
        if (bars_ > 0 || plan_.shortageMm > 0) say(CraftRepair::ladderUpShort);
        if (letDown_ > 0) return;  // it was let down on purpose
        if (atEdge()) say(CraftRepair::edgeRun);
        if (hooks_ == 1) say(CraftRepair::oneRowUp);
        if (changes_ * 2 >= hooks_ && changes_ > 0) {
            say(CraftRepair::ladderUpAlternating);
        } else if (purls_ > knits_) {
            say(CraftRepair::ladderUpPurl);
            if (changes_ == 0) say(CraftRepair::ladderUpRib);
        } else {
            say(CraftRepair::ladderUp);
        }
    }

    std::vector<LoopId> hostsOf(const Fabric& f, LoopId l) const { return f.hostsRightToLeft(l); }

    void wrongLoops() {
        for (const LoopId a : p_.changed) {
            const LoopId m = p_.meant(a);
            if (!m) continue;
            const std::vector<LinkId> was = a_.linksOf(a);
            const std::vector<LinkId> is = m_.linksOf(m);
            if (was.size() == is.size() && was.size() == 1) single(a_[was[0]], m_[is[0]]);
            if (was.size() == is.size() && was.size() > 1) together(a, was, m, is);
            if (was.size() < is.size()) {
                if (is.size() > 1) say(CraftRepair::lateDecrease);
            } else if (was.size() > is.size()) {
                below_ = below_ || std::any_of(was.begin(), was.end(), [&](LinkId l) { return stoodIn(l); });
                say(below_ ? CraftRepair::freeKnitBelow : CraftRepair::partCaught);
            }
        }
        if (!p_.extraPasses.empty() || !p_.missingPasses.empty()) {
            bool colored = false;
            for (const LoopId m : p_.missing) colored = colored || m_[m_[m].yarn].flags.colour != 'A';
            if (colored) {
                say(CraftRepair::swapColor);
            } else if (!p_.missing.empty()) {
                say(CraftRepair::freeSlipped);
            }
        }
        if (p_.crossingsDiffer())
            say(2 * p_.extraCrossings.size() > 0 && letDown_ <= 2 ? CraftRepair::crossOneArm
                                                                  : CraftRepair::crossBoth);
    }

    /// It was drawn out of its own stitch when the needle went into the one below.
    bool stoodIn(LinkId link) const {
        const LoopId host = a_[link].host;
        return !p_.missing.empty() && !a_[host].firstLink &&
               std::find(p_.extra.begin(), p_.extra.end(), host) != p_.extra.end();
    }

    void single(const Link& was, const Link& is) {
        const bool sameHost = p_.actual(is.host) == was.host;
        if (was.form.plies != is.form.plies) say(CraftRepair::freeSplitYarn);
        if (was.form.side != is.form.side) say(CraftRepair::dropToChange);
        if (was.form.twist != is.form.twist) {
            const bool bar = !m_[is.host].firstLink;
            say(bar && is.form.twist != 0 ? CraftRepair::twistMade : CraftRepair::untwistBelow);
        }
        if (was.form.part != is.form.part) say(CraftRepair::mendPickUp);
        if (!sameHost && !p_.crossingsDiffer()) say(CraftRepair::freeKnitBelow);
    }

    void together(LoopId a, const std::vector<LinkId>& was, LoopId m, const std::vector<LinkId>& is) {
        bool sameHosts = true;
        for (const LoopId host : hostsOf(m_, m)) {
            const std::vector<LoopId> hosts = hostsOf(a_, a);
            sameHosts = sameHosts && std::find(hosts.begin(), hosts.end(), p_.actual(host)) != hosts.end();
        }
        if (!sameHosts) {
            say(CraftRepair::moveDecrease);
            return;
        }
        bool order = true;
        for (std::size_t i = 0; i < was.size(); ++i) {
            order = order && p_.actual(m_[is[i]].host) == a_[was[i]].host;
            if (a_[was[i]].form.side != m_[is[i]].form.side) say(CraftRepair::dropToChange);
            if (a_[was[i]].form.twist != m_[is[i]].form.twist) say(CraftRepair::untwistBelow);
        }
        if (!order) say(is.size() > 2 ? CraftRepair::restackCentred : CraftRepair::leanDecrease);
    }

    void madeLoops() {
        int missing = 0;
        int extra = 0;
        for (const LoopId m : p_.missing) {
            if (m_[m].firstLink) continue;
            ++missing;
            const LinkId kid = m_[m].firstKid;
            if (kid && m_[kid].form.twist != 0) say(CraftRepair::lateIncrease);
        }
        for (const LoopId a : p_.extra) extra += a_[a].firstLink || below_ ? 0 : 1;
        if (missing > 0 && extra > 0) {
            say(CraftRepair::moveIncrease);
        } else if (missing > 0) {
            say(hooks_ > 0 ? CraftRepair::hookYarnOver : CraftRepair::liftYarnOver);
        } else if (extra > 0) {
            say(CraftRepair::removeYarnOver);
        }
        for (const LoopId a : p_.extra) {  // two stitches out of one base
            const LinkId link = a_[a].firstLink;
            if (!link || hooks_ > 0) continue;
            if (a_[link].nextInHost || a_[link].prevInHost) {
                say(CraftRepair::removeYarnOver);
                say(CraftRepair::edgeDoubled);
            }
        }
        for (const LoopId m : p_.missing) {
            const LinkId link = m_[m].firstLink;
            if (link && (m_[link].nextInHost || m_[link].prevInHost)) say(CraftRepair::lateIncrease);
        }
        for (const LoopId m : p_.missing) {
            if (m_.linksOf(m).size() > 1 && !p_.missing.empty() && p_.extra.empty() && letDown_ > 0)
                say(CraftRepair::lateDecrease);
        }
    }

    const Plan& plan_;
    const Fabric& m_;
    const Fabric& a_;
    const Pairing& p_;
    std::set<CraftRepair> said_;
    int pins_ = 0;
    int seats_ = 0;
    int hooks_ = 0;
    int knits_ = 0;
    int purls_ = 0;
    int changes_ = 0;
    int bars_ = 0;
    int lifts_ = 0;
    int letDown_ = 0;
    bool lastKnit_ = true;
    bool shaped_ = false;
    bool below_ = false;   ///< a stitch went into the row below
    bool closed_ = false;  ///< something was worked through its back leg
};

}  // namespace

std::string_view idOf(CraftRepair repair) {
    return kNamed[static_cast<std::size_t>(repair)].id;
}

std::string_view wordsFor(CraftRepair repair) {
    return kNamed[static_cast<std::size_t>(repair)].words;
}

bool isMade(CraftRepair repair) {
    return kNamed[static_cast<std::size_t>(repair)].made;
}

std::vector<CraftRepair> repairsIn(const Plan& plan, const Fabric& meant, const Fabric& actual,
                                   const Pairing& pairing) {
    return Looker(plan, meant, actual, pairing).found();
}

}  // namespace loopmend

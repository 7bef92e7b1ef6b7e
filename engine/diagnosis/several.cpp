// SPDX-License-Identifier: MIT
#include "diagnosis/several.h"

#include <algorithm>
#include <cmath>

#include "diagnosis/priors.h"
#include "fabric/pairing.h"

namespace loopmend {

namespace {

constexpr std::size_t kMostFaults = 3;
constexpr std::size_t kTried = 14;    ///< ways to explain the next disagreement that are knitted to the end
constexpr std::size_t kKept = 4;      ///< states that are looked at further
constexpr std::size_t kFurthest = 3;  ///< and of those that go furthest
constexpr int kEffort = 3'000;        ///< of pairing what is left over
constexpr double kWorth = 1.0;        ///< of an edit that is left over, in nats

struct State {
    std::shared_ptr<Trials> trials;
    int edits = 0;
    double cost = 0;
};

/// Something other than the needle holds it.
bool heldBesides(const Fabric& f, LoopId loop) {
    for (HeldId h = f[loop].held; h; h = f[h].alsoHeld) {
        if (f[h].tool != f.needle() && f[h].state.hanging == 0) return true;
    }
    return false;
}

int editsLeft(const Trials& trials, const Target& target) {
    const Fabric& f = trials.cloth();
    const Fabric& g = target.fabric;
    const Pairing p = pairUp(f, g, kEffort);
    const auto off = [](const Fabric& fabric, LoopId loop) {
        return (fabric.isLoose(loop) ? 1 : 0) + (heldBesides(fabric, loop) ? 2 : 0);
    };
    // What hangs free, and what a ring was shut in, is no difference of what goes through what.
    int held = 0;
    for (const WalkedYarn& yarn : target.walk.yarns) {
        for (const LoopId loop : yarn.loops) {
            const LoopId other = p.meant(loop);
            held += other && f.isLoop(other) && off(f, other) != off(g, loop) ? 1 : 0;
        }
    }
    return held +
           static_cast<int>(p.missing.size() + p.extra.size() + p.changed.size() + p.missingPasses.size() +
                            p.extraPasses.size() + p.missingCrossings.size() + p.extraCrossings.size());
}

double surprise(const std::vector<KnownFault>& known) {
    double nats = 0;
    for (const KnownFault& k : known) nats -= std::log(priorOf(k.fault.fault->id) * priorOf(k.after));
    return nats;
}

bool samePlaces(const std::vector<KnownFault>& a, const std::vector<KnownFault>& b) {
    return a.size() == b.size() &&
           std::is_permutation(a.begin(), a.end(), b.begin(), [](const KnownFault& x, const KnownFault& y) {
               return x.fault.place == y.fault.place && x.after == y.after;
           });
}

/// The cheapest, and those that agree furthest along the yarn: where a yarn was cut edits cannot be counted.
void keepBest(std::vector<State>& states) {
    std::stable_sort(states.begin(), states.end(), [](const State& a, const State& b) {
        return a.trials->loopsAgreed() > b.trials->loopsAgreed();
    });
    const std::size_t far = std::min(states.size(), kFurthest);
    std::stable_sort(states.begin() + static_cast<std::ptrdiff_t>(far), states.end(),
                     [](const State& a, const State& b) { return a.cost < b.cost; });
    if (states.size() > far + kKept) states.resize(far + kKept);
}

}  // namespace

std::vector<Decoded> decodeSeveral(const std::shared_ptr<Trials>& first, const Target& target,
                                   const Script& script, int rows, const Setup& setup) {
    std::vector<Decoded> decoded;
    std::vector<State> states{{first, editsLeft(*first, target), 0}};
    for (std::size_t faults = 2; faults <= kMostFaults && decoded.empty(); ++faults) {
        std::vector<State> next;
        for (const State& state : states) {
            (void)state.trials->run(Thoroughly::partial);
            std::vector<Partial> partials = state.trials->partials();
            std::stable_sort(partials.begin(), partials.end(), [](const Partial& a, const Partial& b) {
                if (a.loops != b.loops) return a.loops > b.loops;
                return priorOf(a.fault.fault.fault->id) > priorOf(b.fault.fault.fault->id);
            });
            const int agreed = state.trials->loopsAgreed();
            std::size_t further = 0;
            std::size_t even = 0;
            for (const Partial& partial : partials) {
                if ((partial.loops > agreed ? further : even)++ >= kTried) continue;
                std::vector<KnownFault> known = state.trials->known();
                known.push_back(partial.fault);
                if (std::any_of(next.begin(), next.end(),
                                [&](const State& other) { return samePlaces(other.trials->known(), known); }))
                    continue;
                auto trials = std::make_shared<Trials>(target, script, rows, setup, std::move(known));
                if (!trials->works()) continue;
                const int edits = editsLeft(*trials, target);
                // What goes no further along the yarn has to leave less to be mended.
                if (partial.loops <= agreed && edits >= state.edits) continue;
                next.push_back({trials, edits, surprise(trials->known()) + kWorth * edits});
            }
        }
        keepBest(next);
        for (const State& state : next) {
            std::vector<Proved> proved = state.trials->run(Thoroughly::near);
            if (!proved.empty()) decoded.push_back({state.trials, std::move(proved)});
        }
        states = std::move(next);
    }
    return decoded;
}

}  // namespace loopmend

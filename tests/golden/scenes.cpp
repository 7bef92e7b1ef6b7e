// SPDX-License-Identifier: MIT
#include "golden/scenes.h"

#include <fmt/format.h>

#include <stdexcept>

#include "fabric/hands.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "shape/cloth.h"

namespace loopmend {

namespace {

Knitting worked(const Script& script, const std::vector<FaultPlace>& faults) {
    auto done = knitWith(script, Setup{}, faults, After::byReading);
    if (!done) throw std::logic_error(done.error().message);
    return std::move(done->actual);
}

/// The fault in the middle of the piece, at the first place from `row` upward where it can happen.
Knitting with(const Script& script, const std::string& id, int row, int rows = 0) {
    for (int r = row; r <= static_cast<int>(script.rows.size()); ++r) {
        const int n = stitchesIn(script.rows[static_cast<std::size_t>(r) - 1]);
        for (int k = 0; k < n; ++k) {
            const int stitch = n / 2 + (k % 2 == 0 ? -k / 2 : (k + 1) / 2);
            if (stitch < 1 || stitch > n) continue;
            auto done = knitWith(script, Setup{}, {FaultPlace{id, r, stitch, rows}}, After::byReading);
            if (done) return std::move(done->actual);
        }
    }
    throw std::logic_error(id + " can happen nowhere in this piece");
}

GoldenScene scene(std::string name, StockGround ground, int stitches, int rows, const std::string& twin,
                  int row) {
    const Script script = stockGround(ground, stitches, rows);
    return {std::move(name), [script] { return worked(script, {}); },
            [script, twin, row] { return with(script, twin, row); }};
}

GoldenScene fault(std::string name, StockGround ground, int stitches, int rows, const std::string& id,
                  int row) {
    const Script script = stockGround(ground, stitches, rows);
    return {std::move(name), [script, id, row] { return with(script, id, row); },
            [script] { return worked(script, {}); }};
}

void put(WorkedRow& row, Op op, int times = 1) {
    Step step;
    step.op = op;
    row.steps.insert(row.steps.end(), static_cast<std::size_t>(times), step);
}

/// Stockinette narrowing by a line of decreases on each side, or widening.
Script lines(bool narrowing) {
    Script script;
    script.castOn = narrowing ? 13 : 7;
    int live = script.castOn;
    for (int r = 1; r <= 9; ++r) {
        WorkedRow row;
        row.number = row.printed = r;
        row.facing = r % 2 == 1 ? Facing::right : Facing::wrong;
        if (r % 2 == 0) {
            put(row, Op::purl, live);
        } else if (r == 1 || r == 9) {
            put(row, Op::knit, live);
        } else if (narrowing) {
            put(row, Op::knit, 2);
            put(row, Op::ssk);
            put(row, Op::knit, live - 8);
            put(row, Op::k2tog);
            put(row, Op::knit, 2);
            live -= 2;
        } else {
            put(row, Op::knit, 2);
            put(row, Op::m1Left);
            put(row, Op::knit, live - 4);
            put(row, Op::m1Right);
            put(row, Op::knit, 2);
            live += 2;
        }
        script.rows.push_back(std::move(row));
    }
    return script;
}

LoopId onNeedle(const Fabric& fabric, int place) {
    HeldId h = fabric[fabric.needle()].first;
    for (int i = 0; i < place && fabric[h].next; ++i) h = fabric[h].next;
    return fabric[h].loop;
}

/// A stitch off the needle that ran down some rows, and was hooked up again some.
Knitting ladder(int rows, const std::vector<Side>& hooked) {
    Knitting k = worked(stockGround(StockGround::stockinette, 8, 9), {});
    Fabric& f = *k.fabric;
    const LoopId dropped = onNeedle(f, 4);
    if (!f.letGo(dropped, f.needle(), false)) throw std::logic_error("a stitch does not fall");
    if (letRunFrom(f, dropped, rows) != rows) throw std::logic_error("a stitch does not run");
    for (const Side side : hooked) {
        LoopId open;
        for (std::int32_t e = 0; e < f.entryCount(); ++e) {
            if (f.has(EntryId{e}) && f.isLoop(EntryId{e}) && !rungs(f, EntryId{e}).empty()) open = EntryId{e};
        }
        if (!open) throw std::logic_error("no open stitch to hook");
        Hooking hooking;
        hooking.rung = rungs(f, open).front();
        hooking.through = {{open, 0, 0}};
        hooking.toward = side;
        if (!hook(f, hooking)) throw std::logic_error("a rung cannot be hooked");
    }
    return k;
}

Knitting fallen(int place) {
    Knitting k = worked(stockGround(StockGround::stockinette, 8, 8), {});
    if (!k.fabric->letGo(onNeedle(*k.fabric, place), k.fabric->needle(), false))
        throw std::logic_error("a stitch does not fall");
    return k;
}

}  // namespace

const std::vector<GoldenScene>& goldenScenes() {
    using G = StockGround;
    static const std::vector<GoldenScene> scenes = {
        scene("plain", G::stockinette, 8, 8, "wrong_kp", 5),
        scene("garter", G::garter, 8, 8, "wrong_kp", 5),
        scene("rib", G::rib, 10, 8, "wrong_kp", 5),
        scene("seed", G::seed, 9, 8, "wrong_kp", 5),
        scene("eyelets", G::eyelets, 11, 9, "dec_yo_swapped", 3),
        scene("net", G::net, 8, 8, "missed_yo", 4),
        scene("centered-doubles", G::spines, 13, 7, "cdd_wrong_stack", 3),
        scene("cables", G::cables, 8, 9, "miscrossed", 3),
        scene("shaped", G::shaped, 10, 9, "wrong_kp", 4),
        {"ladder", [] { return ladder(5, {}); }, [] { return ladder(4, {}); }},
        {"half-hooked-ladder",
         [] {
             return ladder(5, {Side::right, Side::right});
         },
         [] {
             return ladder(5, {Side::right, Side::wrong});
         }},
        {"fallen-stitch", [] { return fallen(4); }, [] { return fallen(3); }},
        fault("twisted", G::stockinette, 8, 8, "twist_tbl", 5),
        fault("missed-yarn-over", G::eyelets, 11, 9, "missed_yo", 5),
        fault("wrong-lean", G::eyelets, 11, 9, "wrong_lean", 5),
        {"purl-among-knits", [] { return with(stockGround(G::stockinette, 8, 8), "wrong_kp", 5); },
         [] { return with(stockGround(G::stockinette, 8, 8), "wrong_kp", 6); }},
        {"slipped", [] { return with(stockGround(G::stockinette, 8, 8), "slip_float_back", 5); },
         [] { return with(stockGround(G::stockinette, 8, 8), "slip_float_front", 5); }},
        {"decrease-lines", [] { return worked(lines(true), {}); },
         [] { return with(lines(true), "wrong_lean", 5); }},
        {"made-stitches", [] { return worked(lines(false), {}); },
         [] { return with(lines(false), "m1_open", 5); }},
        fault("edge-run-down", G::stockinette, 8, 8, "ladder_edge", 4),
    };
    return scenes;
}

Path goldenPath(const Fabric& fabric) {
    ClothOptions options;
    options.mostSteps = 500;
    Cloth cloth = Cloth::drawn(fabric, options);
    cloth.settle();
    return cloth.path();
}

View goldenView(const Path& path, Side side) {
    return View::fitting(boundsOf(path, false), 240, 200, 10, side);
}

}  // namespace loopmend

// SPDX-License-Identifier: MIT
#include "tutor/practice_cloth.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <string>

#include "pattern/counts.h"
#include "pattern/parse.h"

namespace loopmend {

namespace {

using G = StockGround;

/// Who lends it. Common in the circle: thick pale wool for first pieces, thin for lace.
struct Member {
    std::string_view name;
    std::array<std::string_view, 3> things;
    double tex;
    double needleMm;
    std::array<std::uint32_t, 2> wools;
};

constexpr Member kOswin{"Oswin", {"scarf end", "first square", "scarf edge"}, 400, 6, {0, 1}};
constexpr Member kMaren{"Maren", {"hat brim", "hat side", "hat"}, 200, 4, {2, 3}};
constexpr Member kTilda{"Tilda", {"leaf sampler", "lace sampler", "sampler border"}, 110, 3.5, {1, 4}};
constexpr Member kIshaan{"Ishaan", {"cushion front", "cushion border", "cushion back"}, 300, 5, {0, 3}};
constexpr Member kBo{"Bo", {"mitten cuff", "mitten", "thumb"}, 220, 4.5, {2, 4}};

enum class Kind { plain, textured, ribbed, lace, cables, shaped, round };

Kind kindOf(const PracticeCloth& cloth) {
    const Script rows = [&] {
        LessonSwatch probe;
        probe.pattern = std::string(cloth.text);
        probe.ground = cloth.ground;
        probe.stitches = cloth.of * 4 + cloth.plus;
        probe.rows = cloth.most > 0 ? std::min(cloth.most, 8) : 8;
        probe.round = cloth.round;
        return knittedRows(probe);
    }();
    if (cloth.round) return Kind::round;
    bool holes = false;
    bool decreases = false;
    bool increases = false;
    bool crossings = false;
    bool both = false;
    for (const WorkedRow& row : rows.rows) {
        bool knits = false;
        bool purls = false;
        for (const Step& step : row.steps) {
            holes = holes || step.op == Op::yarnOver;
            crossings = crossings || step.op == Op::cable;
            decreases = decreases || uses(step) > std::max(makes(step), 1);
            increases = increases || (step.op != Op::yarnOver && makes(step) > uses(step));
            knits = knits || step.op == Op::knit;
            purls = purls || step.op == Op::purl;
        }
        both = both || (knits && purls);
    }
    if (crossings) return Kind::cables;
    if (holes) return Kind::lace;
    if (increases || decreases) return Kind::shaped;
    return both ? Kind::ribbed : Kind::plain;
}

const Member& lender(Seeded& dice, Kind kind) {
    switch (kind) {
        case Kind::plain: {
            const Member* const some[] = {&kOswin, &kOswin, &kTilda, &kBo};
            return *some[dice.below(4)];
        }
        case Kind::ribbed:
        case Kind::textured: {
            const Member* const some[] = {&kMaren, &kMaren, &kIshaan, &kOswin};
            return *some[dice.below(4)];
        }
        case Kind::lace: return kTilda;
        case Kind::cables: return kIshaan;
        case Kind::shaped:
        case Kind::round: break;
    }
    return kBo;
}

template <class T, std::size_t N>
const T& oneOf(Seeded& dice, const std::array<T, N>& list) {
    return list[static_cast<std::size_t>(dice.below(static_cast<int>(N)))];
}

}  // namespace

const std::vector<PracticeCloth>& practiceCloths() {
    static const std::vector<PracticeCloth> kCloths = {
        {"stockinette", "", G::stockinette},
        {"garter", "", G::garter},
        {"two by two rib", "", G::rib, 4, 2},
        {"seed", "", G::seed, 2, 1},
        {"eyelets", "", G::eyelets, 4, 3},
        {"net", "", G::net, 2, 2},
        {"spines", "", G::spines, 6, 1},
        {"ropes", "", G::cables, 6, 2},
        {"shaped", "", G::shaped, 1, 0},
        {"one by one rib", "Row 1: *k1, p1; rep from * to end.\nRow 2: *k1, p1; rep from * to end.\n", G::rib,
         2, 0},
        {"wide rib",
         "Row 1 (RS): *k3, p2; rep from * to last 3 sts, k3.\nRow 2: *p3, k2; rep from * to last 3 sts, "
         "p3.\n",
         G::rib, 5, 3},
        {"broken rib", "Row 1 (RS): k to end.\nRow 2: *p1, k1; rep from * to last st, p1.\n", G::rib, 2, 1},
        {"moss",
         "Row 1 (RS): *k2, p2; rep from * to end.\nRow 2: *k2, p2; rep from * to end.\n"
         "Row 3: *p2, k2; rep from * to end.\nRow 4: *p2, k2; rep from * to end.\n",
         G::seed, 4, 0},
        {"welts",
         "Row 1 (RS): k to end.\nRow 2: p to end.\nRow 3: k to end.\nRow 4: k to end.\nRow 5: p to end.\n"
         "Row 6: k to end.\n",
         G::garter},
        {"ridges", "Row 1 (RS): k to end.\nRow 2: p to end.\nRow 3: k to end.\nRow 4: k to end.\n",
         G::garter},
        {"basket",
         "Row 1 (RS): *k4, p4; rep from * to last 4 sts, k4.\nRow 2: *p4, k4; rep from * to last 4 sts, p4.\n"
         "Row 3: *k4, p4; rep from * to last 4 sts, k4.\nRow 4: *k4, p4; rep from * to last 4 sts, k4.\n"
         "Row 5: *p4, k4; rep from * to last 4 sts, p4.\nRow 6: *k4, p4; rep from * to last 4 sts, k4.\n",
         G::rib, 8, 4},
        {"plain with a garter border", "Row 1 (RS): k to end.\nRow 2: k3, p to last 3 sts, k3.\n",
         G::stockinette},
        {"slipped edge", "Row 1 (RS): sl1, k to end.\nRow 2: sl1, p to end.\n", G::stockinette},
        {"slipped columns", "Row 1 (RS): k1, *sl1 wyib, k1; rep from * to end.\nRow 2: p to end.\n",
         G::stockinette, 2, 1},
        {"one line of holes",
         "Row 1 (RS): k to end.\nRow 2: p to end.\nRow 3: k1, *k2tog, yo; rep from * to last st, k1.\n"
         "Row 4: p to end.\nRow 5: k to end.\nRow 6: p to end.\n",
         G::eyelets, 2, 2},
        {"slanting holes",
         "Row 1 (RS): k1, *yo, ssk, k2; rep from * to last 2 sts, k2.\nRow 2: p to end.\n"
         "Row 3: k2, *yo, ssk, k2; rep from * to last st, k1.\nRow 4: p to end.\n"
         "Row 5: k3, *yo, ssk, k2; rep from * to end.\nRow 6: p to end.\n",
         G::eyelets, 4, 3},
        {"small leaves",
         "Row 1 (RS): k1, *yo, ssk, k1, k2tog, yo, k1; rep from * to end.\nRow 2: p to end.\n"
         "Row 3: k2, *yo, s2kp, yo, k3; rep from * to last 5 sts, yo, s2kp, yo, k2.\nRow 4: p to end.\n",
         G::eyelets, 6, 1},
        {"waves", "Row 1 (RS): k1, *yo, k2, s2kp, k2, yo, k1; rep from * to end.\nRow 2: p to end.\n",
         G::spines, 8, 1},
        {"waves the other way",
         "Row 1 (RS): k1, *yo, k2, sk2p, k2, yo, k1; rep from * to end.\nRow 2: p to end.\n", G::spines, 8,
         1},
        {"garter lace",
         "Row 1 (RS): k1, *yo, k2tog; rep from * to last st, k1.\nRow 2: k to end.\nRow 3: k to end.\n"
         "Row 4: k to end.\n",
         G::net, 2, 2},
        {"crowns",
         "Row 1 (RS): k1, *yo, k3, yo, k1; rep from * to end.\nRow 2: p to end.\n"
         "Row 3: k1, *ssk, k1, k2tog, k1; rep from * to end.\nRow 4: p to end.\n",
         G::eyelets, 4, 1},
        {"fans",
         "Row 1 (RS): k2, *yo, k1, yo, k4; rep from * to last 3 sts, yo, k1, yo, k2.\nRow 2: p to end.\n"
         "Row 3: k to end.\nRow 4: p to end.\n"
         "Row 5: k1, *ssk, k1, k2tog, k2; rep from * to last 6 sts, ssk, k1, k2tog, k1.\nRow 6: p to end.\n",
         G::eyelets, 5, 5},
        {"thin ropes",
         "Row 1 (RS): *p2, k2; rep from * to last 2 sts, p2.\nRow 2: *k2, p2; rep from * to last 2 sts, k2.\n"
         "Row 3: *p2, 1/1 RC; rep from * to last 2 sts, p2.\nRow 4: *k2, p2; rep from * to last 2 sts, k2.\n",
         G::cables, 4, 2},
        {"thick rope",
         "Row 1 (RS): *p2, k6; rep from * to last 2 sts, p2.\nRow 2: *k2, p6; rep from * to last 2 sts, k2.\n"
         "Row 3: *p2, 3/3 LC; rep from * to last 2 sts, p2.\nRow 4: *k2, p6; rep from * to last 2 sts, k2.\n"
         "Row 5: *p2, k6; rep from * to last 2 sts, p2.\nRow 6: *k2, p6; rep from * to last 2 sts, k2.\n",
         G::cables, 8, 2},
        {"widening", "Row 1 (RS): k1, m1 left, k to last st, m1 right, k1.\nRow 2: p to end.\n", G::shaped, 1,
         0, 12},
        {"narrowing", "Row 1 (RS): k1, ssk, k to last 3 sts, k2tog, k1.\nRow 2: p to end.\n", G::shaped, 1, 6,
         10},
        {"plain in the round", "", G::stockinette, 1, 0, 0, true},
        {"rib in the round", "", G::rib, 4, 0, 0, true},
        {"seed in the round", "", G::seed, 2, 0, 0, true},
        {"holes in the round", "", G::eyelets, 4, 0, 0, true},
        {"ropes in the round", "", G::cables, 6, 0, 0, true},
    };
    return kCloths;
}

Script knittedRows(const LessonSwatch& swatch) {
    if (swatch.pattern.empty()) return stockGround(swatch.ground, swatch.stitches, swatch.rows, swatch.round);
    const Pattern pattern = parse(swatch.pattern);
    if (!pattern.problems.empty()) return {};
    tl::expected<Script, Problem> script = expand(pattern, swatch.stitches, swatch.rows);
    return script ? std::move(*script) : Script{};
}

LessonSwatch lentSwatch(Seeded& dice, const PracticeCloth& cloth) {
    constexpr int kLeastStitches = 14;
    constexpr int kMoreStitches = 8;
    constexpr int kLeastRows = 7;
    constexpr int kMoreRows = 8;
    LessonSwatch swatch;
    swatch.pattern = std::string(cloth.text);
    swatch.ground = cloth.ground;
    swatch.round = cloth.round;
    const int wide = kLeastStitches + dice.below(kMoreStitches);
    const int repeats = std::max(1, (wide - cloth.plus + cloth.of - 1) / cloth.of);
    swatch.stitches = repeats * cloth.of + cloth.plus;
    swatch.rows = kLeastRows + dice.below(kMoreRows);
    if (cloth.most > 0) swatch.rows = std::min(swatch.rows, cloth.most);

    const Member& member = lender(dice, kindOf(cloth));
    swatch.member = std::string(member.name);
    swatch.thing = std::string(oneOf(dice, member.things));
    swatch.yarn.tex = member.tex;
    swatch.yarn.needleMm = member.needleMm;
    swatch.yarn.color = oneOf(dice, member.wools);
    swatch.yarn.seed = dice.next() % 1'000'000;
    // Half of Maren's loops sit left leg forward, and that is no mistake.
    if (member.name == kMaren.name && dice.below(2) == 0) swatch.setup.habit = Habit::combination;
    return swatch;
}

}  // namespace loopmend

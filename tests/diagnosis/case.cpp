// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>

#include <algorithm>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "diagnosis/belief.h"
#include "diagnosis/case.h"
#include "diagnosis/case_chances.h"
#include "diagnosis/case_on.h"
#include "diagnosis/next_look.h"
#include "diagnosis/priors.h"
#include "diagnosis/tables.h"
#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "reading/answer.h"
#include "sampled.h"

using namespace loopmend;

namespace {

using What = Sighting::What;

std::size_t hypothesis(const CaseTables& t, const std::string& id, int row, int stitch, After after) {
    for (std::size_t h = 0; h < t.size(); ++h) {
        const CaseHypothesis& it = t.at(h);
        if (t.id(it.kind) == id && it.row == row && it.stitch == stitch &&
            it.after == static_cast<int>(after))
            return h;
    }
    FAIL("no such hypothesis: " << id << "@" << row << "," << stitch);
    return 0;
}

/// Answers all that a case asks as a perfect eye would.
void answerAll(Case& c, const LookedAt& hidden) {
    answerAll(c, [&](const Look& look) { return answer(look, hidden); });
}

/// A script but for the rows to come, with a mistake in it, made ready for looks.
struct Hidden {
    FaultyKnitting piece;
    LookedAt looked;
};
Hidden hiddenPiece(const Script& script, int rows, const FaultPlace& fault, After after = After::byReading) {
    Script done = script;
    done.rows.resize(static_cast<std::size_t>(rows));
    auto piece = knitWith(done, {}, {fault}, after);
    REQUIRE(piece);
    LookedAt looked(*piece->actual.fabric, *piece->meant.fabric, &script);
    return {std::move(*piece), std::move(looked)};
}

/// A kind asks for a name given close by and one more sign: named at another place or from the other side,
/// named when it was found, counted, or felt.
bool isNamedTwice(const Case& c) {
    std::set<std::string> named;
    int others = 0;
    for (const CaseNote& n : c.notes()) {
        if (n.kind != CaseNote::Kind::look || !n.told) continue;
        if (n.look.way == LookWay::closeLook && n.seen.what == What::sign) named.insert(text(n.look));
        const bool found = (n.look.way == LookWay::searchPatch || n.look.way == LookWay::slantLight) &&
                           n.seen.what == What::place && n.seen.oddity != OddSign::other;
        const bool number = n.seen.what == What::number && n.seen.by != 0;
        const bool felt = (n.look.way == LookWay::tug || n.look.way == LookWay::stretchPatch) &&
                          n.seen.what != What::nothing;
        others += number || felt || found ? 1 : 0;
    }
    return named.size() >= 2 || (named.size() == 1 && others > 0);
}

}  // namespace

TEST_CASE("the same look is never asked twice") {
    Case c = caseOn(StockGround::eyelets, 16, 14);
    CaseNote first;
    first.kind = CaseNote::Kind::picture;
    REQUIRE(c.tell(first));
    std::set<std::string> asked;
    for (int i = 0; i < 8 && c.question(); ++i) {
        const CaseQuestion q = *c.question();
        if (q.kind == CaseNote::Kind::look) CHECK(asked.insert(text(q.look)).second);
        CaseNote n;
        n.kind = q.kind;
        n.look = q.look;
        if (i % 3 == 2) {
            c.cantTell();
        } else {
            n.seen = q.choices.front().note.seen;
            REQUIRE(c.tell(n));
        }
    }
    CHECK(asked.size() >= 6);
}

TEST_CASE("what was noticed in another order gives the same belief") {
    const std::vector<CaseNote> notes = {
        note("count:row=12,column=1-16", What::number, 0, 0, OddSign::none, -1),
        note("search:row=9-12,column=1-8", What::nothing), note("search:row=1-6,column=1-16", What::nothing),
        note("glance", What::ninth, 0, 0, OddSign::none, 5),
        note("close:row=7,column=8", What::sign, 0, 0, OddSign::noHole)};
    Case a = caseOn(StockGround::eyelets, 16, 12);
    Case b = caseOn(StockGround::eyelets, 16, 12);
    REQUIRE(a.tell(notes));
    std::vector<CaseNote> other = {notes[3], notes[2], notes[4], notes[1], notes[0]};
    REQUIRE(b.tell(other));
    double most = 0;
    for (std::size_t h = 0; h < a.weights().size(); ++h)
        most = std::max(most, std::abs(a.weights()[h] - b.weights()[h]));
    CHECK(most < 1e-9);
}

TEST_CASE("a false alarm does not remove the truth") {
    Case c = caseOn(StockGround::stockinette, 20, 12);
    const std::size_t truth = hypothesis(c.tables(), "wrong_kp", 10, 9, After::byReading);
    REQUIRE(c.tell(note("search:row=1-5,column=1-20", What::place, 3, 4, OddSign::bump)));
    CHECK(c.weights()[truth] > 0);
    // Two looks that say otherwise bring it back.
    REQUIRE(c.tell(note("close:row=3,column=4", What::nothing)));
    REQUIRE(c.tell(note("search:row=8-12,column=5-14", What::place, 10, 9, OddSign::bump)));
    REQUIRE(c.tell(note("close:row=10,column=9", What::sign, 0, 0, OddSign::bump)));
    const auto best = c.explanations(1);
    REQUIRE_FALSE(best.empty());
    CHECK(best.front().row == 10);
    CHECK(best.front().column == 9);
}

TEST_CASE("a plain row keeps apart nothing that she did: only the next row with a pattern does") {
    // Eyelets have plain rows between: a yarn over missed, and then a plain row by count or by reading.
    const Script whole = stockGround(StockGround::eyelets, 16, 12);
    const auto knot = [&](int rows, After after) {
        Script done = whole;
        done.rows.resize(static_cast<std::size_t>(rows));
        // The first yarn over of row 5.
        const WorkedRow& row = done.rows[4];
        int stitch = 1;
        for (const Step& s : row.steps) {
            if (s.op == Op::yarnOver) break;
            stitch += stitchesOf(s);
        }
        const auto piece = knitWith(done, {}, {{"missed_yo", 5, stitch, 0}}, after);
        REQUIRE(piece);
        return knotOf(*piece->actual.fabric);
    };
    CHECK(knot(6, After::byCount) == knot(6, After::byReading));
    CHECK(knot(7, After::byCount) != knot(7, After::byReading));
}

TEST_CASE("a missed yarn over heals by reading where its column is taken in") {
    constexpr int kRows = 14;
    const Case c = caseOn(StockGround::eyelets, 16, kRows);
    const CaseTables& t = c.tables();
    int seen = 0;
    for (std::size_t h = 0; h < t.size(); ++h) {
        const CaseHypothesis& it = t.at(h);
        if (t.id(it.kind) != "missed_yo" || it.after != static_cast<int>(After::byReading) || it.row != 5)
            continue;
        CHECK(t.offAfter(h, 4) == 0);
        CHECK(t.offAfter(h, 5) == -1);
        Script done = t.script();
        done.rows.resize(kRows);
        const auto piece = knitWith(done, {}, {t.placeOf(it)}, After::byReading);
        REQUIRE(piece);
        for (int row = 5; row <= kRows; ++row) {
            const auto& count = piece->counts[static_cast<std::size_t>(row) - 1];
            CHECK(t.offAfter(h, row) == count.actual - count.meant);
        }
        ++seen;
    }
    CHECK(seen > 0);
}

TEST_CASE(
    "with a ground alone: first make it safe, then point and say which, then whether the row came out") {
    CaseStart start;
    start.ground = CaseGround::rib;
    start.rowsDone = 12;
    auto made = Case::begin(start, usual());
    REQUIRE(made);
    Case& c = *made;
    REQUIRE(c.question());
    CHECK(c.question()->kind == CaseNote::Kind::safe);
    REQUIRE(c.tell(c.question()->choices.front().note));
    REQUIRE(c.question());
    CHECK(c.question()->kind == CaseNote::Kind::picture);
    CHECK(c.question()->choices.size() == 5);
    CaseNote hole = c.question()->choices[1].note;
    CHECK(hole.picture == CasePicture::hole);
    hole.row = 9;
    hole.column = 7;
    REQUIRE(c.tell(hole));
    REQUIRE(c.question());
    CHECK(c.question()->kind == CaseNote::Kind::cameOut);
    const std::vector<double> before = c.weights();
    c.cantTell();
    REQUIRE(c.question());
    CHECK(c.question()->kind == CaseNote::Kind::look);
    CHECK(c.weights() == before);
    // Back, without limit.
    while (c.back()) {
    }
    REQUIRE(c.question());
    CHECK(c.question()->kind == CaseNote::Kind::safe);
    CHECK(c.notes().empty());
}

TEST_CASE("a case that she can answer settles, and is knitted again") {
    const Script script = stockGround(StockGround::stockinette, 18, 16);
    const Hidden hidden = hiddenPiece(script, 14, {"wrong_kp", 8, 7, 0});
    Case c = caseOn(StockGround::stockinette, 18, 14);
    answerAll(c, hidden.looked);
    CHECK(isNamedTwice(c));
    const CaseSettled s = c.settled();
    CHECK(s.settled);
    REQUIRE(s.explanation);
    CHECK(s.explanation->id == "wrong_kp");
    CHECK(s.explanation->row == 8);
    CHECK(s.explanation->checked);
    CHECK_FALSE(s.explanation->signs.empty());
    CHECK(s.leastCredible == -1);
    const auto model = c.model(*s.explanation);
    REQUIRE(model);
    CHECK(knotOf(*model->knitting->actual.fabric) == knotOf(*hidden.piece.actual.fabric));
    const CasePlace place = c.place();
    CHECK(place.loops <= 9);
    CHECK(place.loopsInAll > 200);
}

TEST_CASE("what is settled rests on no single answer") {
    const Script script = stockGround(StockGround::eyelets, 16, 14);
    Case c = caseOn(StockGround::eyelets, 16, 12);
    const CaseTables& t = c.tables();
    const auto it = std::find_if(t.priors().begin(), t.priors().end(), [&](const double& p) {
        const CaseHypothesis& h = t.at(static_cast<std::size_t>(&p - t.priors().data()));
        return t.id(h.kind) == "missed_yo" && h.row == 7 && h.after == static_cast<int>(After::byReading);
    });
    REQUIRE(it != t.priors().end());
    const FaultPlace truth = t.placeOf(t.at(static_cast<std::size_t>(it - t.priors().begin())));
    answerAll(c, hiddenPiece(script, 12, truth).looked);
    REQUIRE(c.settled().settled);
    CHECK(isNamedTwice(c));
    REQUIRE(c.settled().explanation->id == "missed_yo");
    REQUIRE(c.notes().size() > 2);
    // The first two of them: each costs a case of its own.
    for (std::size_t left = 1; left < 3; ++left) {
        std::vector<CaseNote> notes = c.notes();
        notes.erase(notes.begin() + static_cast<std::ptrdiff_t>(left));
        Case other = caseOn(StockGround::eyelets, 16, 12);
        REQUIRE(other.tell(notes));
        const auto best = other.explanations(1);
        REQUIRE_FALSE(best.empty());
        INFO("without: " << words(c.notes()[left]));
        CHECK(best.front().id == "missed_yo");
        CHECK(best.front().row == truth.row);
        CHECK(best.front().probability > 0.4);
    }
}

TEST_CASE("one rung is not taken for the lowest before she has looked below it") {
    // A ladder, of which nobody knows in this case: what is left behind leaves but one rung.
    CaseStart start;
    start.rowsDone = 14;
    for (const Fault* fault : catalogue()) {
        if (fault->id.substr(0, 6) == "ladder") start.priors[std::string(fault->id)] = 0;
    }
    CaseMeant meant;
    meant.script = stockGround(StockGround::stockinette, 18, 16);
    meant.rowsDone = 14;
    const Hidden hidden = hiddenPiece(meant.script, 14, {"ladder_stockinette", 9, 7, 0});
    auto c = Case::begin(start, std::move(meant), usual());
    REQUIRE(c);
    std::vector<CaseNote> notes =
        seenAt(hidden.looked,
               {"search:row=13-14,column=1-18", "search:row=11-14,column=5-9", "close:row=13,column=7"});
    notes[1].seen.row = 12;  // a row off, as she may be
    REQUIRE(c->tell(notes));
    bool below = false;
    while (c->question()) {
        CaseNote n;
        n.look = c->question()->look;
        n.seen = answer(n.look, hidden.looked);
        below = below || (n.look.rowFrom < 11 &&
                          (n.seen.what == What::sign || (n.seen.what == What::place && n.seen.row < 11)));
        REQUIRE(c->tell(n));
    }
    CHECK(below);
    const CaseSettled s = c->settled();
    REQUIRE(s.explanation);
    CHECK(s.explanation->id == "not-in-list");
    CHECK(std::abs(s.explanation->row - 9) <= 1);
}

TEST_CASE(
    "a piece that was knitted is no stitch off; what is much like it looks so but for one place of ten") {
    const LookErrors errors;
    Look look;
    look.way = LookWay::searchPatch;
    look.rowFrom = 4;
    look.rowTo = 8;
    look.columnFrom = 2;
    look.columnTo = 12;
    CaseForecast f;
    f.seen = note("glance", What::place, 6, 7, OddSign::hole).seen;
    const Sighting same = f.seen;
    Sighting aside = f.seen;
    aside.column = 9;
    const double byTables = likelihoodOf(look, f, aside, errors);
    f.knitted = true;
    CHECK(likelihoodOf(look, f, aside, errors) * 10 < byTables);
    const double fits = likelihoodOf(look, f, same, errors);
    CHECK(likelihoodOfMuchLike(look, f, same, errors) < fits);
    CHECK(likelihoodOfMuchLike(look, f, same, errors) >= 0.9 * fits);
    CHECK(likelihoodOfMuchLike(look, f, aside, errors) > likelihoodOf(look, f, aside, errors));
}

TEST_CASE(
    "lace in every row is odd in row after row up to the needle; with plain rows only where it happened") {
    const auto topmost = [](const std::string& second, bool solve) {
        CaseStart start;
        start.pattern = "Cast on 24 sts.\nRow 1 (RS): *yo, k2tog, k4; rep from * to end.\nRow 2: " + second +
                        "Rep rows 1 and 2 for pattern.\n";
        start.rowsDone = 14;
        auto c = Case::begin(start, usual());
        REQUIRE(c);
        const CaseTables& t = c->tables();
        const FaultPlace truth = t.placeOf(t.at(hypothesis(t, "missed_yo", 5, 13, After::byCount)));
        const Hidden hidden = hiddenPiece(t.script(), 14, truth, After::byCount);
        int top = 0;
        for (int row = 1; row <= 14; ++row) {
            Look look;
            look.way = LookWay::searchPatch;
            look.rowFrom = look.rowTo = row;
            look.columnFrom = 1;
            look.columnTo = t.cloth().width(row);
            if (answer(look, hidden.looked).what == What::place) top = row;
        }
        // The row of the hands is told all the same, not the topmost that is odd.
        if (solve) {
            answerAll(*c, hidden.looked);
            const auto best = c->explanations(1);
            REQUIRE_FALSE(best.empty());
            CHECK(best.front().id == "missed_yo");
            CHECK(best.front().row == 5);
            CHECK(best.front().after == After::byCount);
        }
        return top;
    };
    CHECK(topmost("*p4, p2tog, yo; rep from * to end.\n", !kSanitized) == 14);
    CHECK(topmost("purl.\n", false) == 5);
}

TEST_CASE("what the cloth lets happen is possible, also where a cut goes through what belongs together") {
    for (const StockGround ground : {StockGround::cables, StockGround::spines}) {
        const Case c = caseOn(ground, 18, 12);
        const CaseTables& t = c.tables();
        Script done = t.script();
        done.rows.resize(12);
        int tried = 0;
        int lost = 0;
        for (std::size_t h = 3; h < t.size(); h += kSanitized ? 33 : 11) {
            if (!t.isListed(t.at(h))) continue;
            t.looksOf(h);  // in little
            if (t.can(h)) continue;
            ++tried;
            const auto piece = knitWith(done, {}, {t.placeOf(t.at(h))}, static_cast<After>(t.at(h).after));
            lost += piece && knotOf(*piece->actual.fabric) != knotOf(*piece->meant.fabric) ? 1 : 0;
        }
        INFO(name(ground) << ": " << tried);
        CHECK(lost == 0);
    }
}

TEST_CASE("that what was to be counted is not there speaks for what takes it away") {
    Look count;
    count.way = LookWay::countSpan;
    count.rowFrom = count.rowTo = 5;
    count.columnFrom = 1;
    count.columnTo = 9;
    Sighting gone;
    gone.what = What::unclear;
    CaseForecast there;
    there.seen.what = What::number;
    CaseForecast doubted = there;
    doubted.doubt = CaseDoubt::some;
    CaseForecast taken;
    taken.seen = gone;
    const LookErrors errors;
    CHECK(likelihoodOf(count, taken, gone, errors) > likelihoodOf(count, doubted, gone, errors));
    CHECK(likelihoodOf(count, doubted, gone, errors) > likelihoodOf(count, there, gone, errors));
    CHECK(likelihoodOf(count, taken, there.seen, errors) < likelihoodOf(count, there, there.seen, errors));
}

TEST_CASE("a row that was left unfinished is gone on from by count or by reading") {
    const Case c = caseOn(StockGround::eyelets, 16, 12);
    Script done = c.tables().script();
    done.rows.resize(12);
    const auto knot = [&](After after) {
        const std::size_t h = hypothesis(c.tables(), "last_left", 6, 1, after);
        const auto piece = knitWith(done, {}, {c.tables().placeOf(c.tables().at(h))}, after);
        REQUIRE(piece);
        return knotOf(*piece->actual.fabric);
    };
    CHECK(knot(After::byCount) != knot(After::byReading));
}

TEST_CASE("what was worked by count is counted in a span as the cloth has it") {
    const Case c = caseOn(StockGround::eyelets, 20, 14);
    const CaseTables& t = c.tables();
    Script done = t.script();
    done.rows.resize(14);
    Seeded dice(3);
    int all = 0;
    int same = 0;
    for (std::size_t h = 0; h < t.size(); h += 7) {
        const std::string id(t.id(t.at(h).kind));
        if (t.at(h).after != static_cast<int>(After::byCount) || (id != "missed_yo" && id != "missed_dec"))
            continue;
        const auto piece = knitWith(done, {}, {t.placeOf(t.at(h))}, After::byCount);
        if (!piece) continue;
        const LookedAt cloth(*piece->actual.fabric, *piece->meant.fabric, &t.script());
        for (int i = 0; i < 12; ++i) {
            Look look;
            look.way = LookWay::countSpan;
            look.rowFrom = look.rowTo = 1 + dice.below(14);
            look.columnFrom = 1 + dice.below(t.cloth().width(look.rowFrom));
            look.columnTo = look.columnFrom + dice.below(t.cloth().width(look.rowFrom) - look.columnFrom + 1);
            const Sighting seen = answer(look, cloth);
            if (seen.what == What::unclear) continue;
            ++all;
            same += t.forecast(look, h).seen == seen ? 1 : 0;
        }
    }
    INFO(same << " of " << all);
    CHECK(all > 100);
    CHECK(same * 100 >= all * 95);
}

TEST_CASE("a case refuses what cannot be so, and nothing is changed") {
    Case c = caseOn(StockGround::stockinette, 20, 12);
    const std::vector<double> before = c.weights();
    CHECK_FALSE(c.tell(note("count:row=13,column=1-20", What::number)));
    CHECK_FALSE(c.tell(note("close:row=5,column=40", What::nothing)));
    CHECK_FALSE(c.tell(note("search:row=1-4,column=1-20", What::place, 9, 3, OddSign::bump)));
    CHECK_FALSE(c.tell(note("glance", What::ninth, 0, 0, OddSign::none, 12)));
    CHECK(c.notes().empty());
    CHECK(c.weights() == before);
    CaseStart start;
    start.pattern = "Cast on 15 sts.\nRow 1: *k1, p1; rep from * to end.\n";
    start.rowsDone = 3;
    start.stitches = 15;
    CHECK_FALSE(meantBy(start));
    start.pattern.clear();
    start.rowsDone = 0;
    CHECK_FALSE(meantBy(start));
}

TEST_CASE("weights of mistakes are learned from attempts") {
    const auto usual = learnedPriors({});
    for (const auto& [id, weight] : usual) CHECK(weight == Approx(priorOf(id)));
    const auto met = learnedPriors({{"twist_tbl", 50}});
    CHECK(met.at("twist_tbl") > 5 * usual.at("twist_tbl"));
    CHECK(met.at("missed_yo") == Approx(usual.at("missed_yo") / 2));
}

namespace {

/// Beliefs on a small piece: after some answers that a piece with a mistake would give. How much of the best
/// bits a second the look found in a sample has, and the worst of that.
void sampledAgainstAll(int beliefs, double& sum, double& worst) {
    sum = 0;
    worst = 1;
    NextLookManners manners;
    for (int i = 0; i < beliefs; ++i) {
        constexpr StockGround kGrounds[] = {StockGround::eyelets, StockGround::rib, StockGround::stockinette,
                                            StockGround::spines, StockGround::net};
        Case c = caseOn(kGrounds[i % 5], 16, 8);
        Seeded dice(static_cast<std::uint64_t>(i) + 11);
        const CaseTables& t = c.tables();
        std::size_t hidden = 0;
        do hidden = static_cast<std::size_t>(dice.below(static_cast<int>(t.size())));
        while (!t.isListed(t.at(hidden)) || !t.can(hidden));
        CaseNote first;
        first.kind = CaseNote::Kind::picture;
        REQUIRE(c.tell(first));
        LookedSoFar soFar;
        for (int told = i % 4; told > 0 && c.question() && c.question()->kind == CaseNote::Kind::look;
             --told) {
            CaseNote n;
            n.look = c.question()->look;
            n.seen = t.forecast(n.look, hidden).seen;
            soFar.asked.insert(text(n.look));
            if (!c.tell(n)) break;
        }
        const Belief belief(c.weights());
        const CaseSample whole = wholeOf(t, belief);
        const CaseSample sample = sampleOf(t, belief, manners.sample, 0.37);
        const CaseSample closer = sampleOf(t, belief, manners.sample * NextLookManners::kCloser, 0.37);
        const NextLook found = nextLook(t, sample, soFar, manners, &closer);
        if (!found.any) {
            sum += 1;
            continue;
        }
        const auto score = [&](const Look& look) {
            return bitsOf(look, t, whole, soFar, manners.errors) / (seconds(look) + manners.perLook);
        };
        double best = 0;
        for (const Look& look : candidateLooks(t, sample)) {
            if (soFar.asked.count(text(look)) == 0) best = std::max(best, score(look));
        }
        const double share = best > 0 ? score(found.look) / best : 1;
        sum += share;
        worst = std::min(worst, share);
    }
}

}  // namespace

TEST_CASE("the next look found in a sample is as good as the one found in all") {
    double sum = 0;
    double worst = 0;
    constexpr int kBeliefs = kSanitized ? 1 : 2;
    sampledAgainstAll(kBeliefs, sum, worst);
    CHECK(sum / kBeliefs > 0.99);
    CHECK(worst > 0.97);
}

TEST_CASE("the next look found in a sample is as good as the one found in all, of fifty beliefs", "[.all]") {
    double sum = 0;
    double worst = 0;
    sampledAgainstAll(50, sum, worst);
    WARN("of the best bits a second: " << sum / 50 << " on the average, " << worst << " at worst");
    CHECK(sum / 50 > 0.99);
    CHECK(worst > 0.97);
}

TEST_CASE("what is not in the list may lie all along a row") {
    const CaseTables t(stockGround(StockGround::stockinette, 14, 6), {}, 5, {}, nullptr);
    std::vector<std::size_t> along;
    for (std::size_t h = 0; h < t.size(); ++h) {
        if (!t.isListed(t.at(h)) && t.isWholeRow(t.at(h))) along.push_back(h);
    }
    CHECK(along.size() == 5);
    // One place alone is more likely nothing but that place; four of one row are that row.
    Belief belief(t.priors());
    for (const int column : {2, 6, 10, 13}) {
        const CaseNote seen = note(fmt::format("close:row=3,column={}", column), What::unnamed);
        for (const std::size_t h : along) {
            if (t.at(h).row == 3) CHECK(t.forecast(seen.look, h).seen.what != What::nothing);
        }
        belief.update([&](std::int32_t h) {
            const auto number = static_cast<std::size_t>(h);
            return t.can(number) ? likelihoodOf(seen, t, number, {}) : 0.0;
        });
        double sum = 0;
        for (const std::size_t h : along) sum += belief.weight(h);
        if (column == 2) CHECK(sum < 0.5);
        if (column == 13) CHECK(sum > 0.5);
    }
}

TEST_CASE("what has no name is rather something that is not in the list") {
    const Look look = note("close:row=5,column=5", What::nothing).look;
    CaseForecast hole;
    hole.seen.what = What::sign;
    hole.seen.oddity = OddSign::hole;
    Sighting unnamed;
    unnamed.what = What::unnamed;
    CHECK(likelihoodOfMuchLike(look, hole, unnamed, {}) > 5 * likelihoodOf(look, hole, unnamed, {}));
    CHECK(likelihoodOfMuchLike(look, hole, hole.seen, {}) < likelihoodOf(look, hole, hole.seen, {}));
    const CaseForecast nothing;
    CHECK(likelihoodOfMuchLike(look, nothing, nothing.seen, {}) > 0.5);
}

TEST_CASE("of the names that a question offers the likeliest come first") {
    Case c = caseOn(StockGround::stockinette, 20, 20);
    REQUIRE(c.tell(note("search:row=8-12,column=5-14", What::place, 10, 9, OddSign::bump)));
    for (int i = 0; i < 4 && c.question() && c.question()->look.way != LookWay::closeLook; ++i) c.cantTell();
    REQUIRE(c.question());
    INFO(text(c.question()->look));
    const auto& choices = c.question()->choices;
    REQUIRE(choices.size() > 8);
    CHECK(choices.front().note.seen.what == What::nothing);
    // A bump among Vs: that, or what it looks like from behind, before all that cannot be there.
    CHECK((choices[1].note.seen.oddity == OddSign::bump || choices[1].note.seen.oddity == OddSign::v));
    const auto placeOf = [&](OddSign sign) {
        return std::find_if(choices.begin(), choices.end(),
                            [&](const auto& choice) { return choice.note.seen.oddity == sign; }) -
               choices.begin();
    };
    CHECK(placeOf(OddSign::bump) < placeOf(OddSign::crossRight));
    // Something, but none of these.
    if (c.question()->look.way == LookWay::closeLook)
        CHECK(choices.back().note.seen.what == What::unnamed);
    else
        CHECK(choices.back().note.seen.oddity == OddSign::other);
}

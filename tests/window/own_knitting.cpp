// SPDX-License-Identifier: MIT
//
// Somebody's own knitting through the real window: nobody tells the program what happened. Her piece is
// knitted with its mistake and lies beside the window; she answers by looking at it, points on the drawn
// model, and at the end mends the model by hand.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <optional>
#include <string>

#include <SDL.h>

#include "app/sign_pictures.h"
#include "diagnosis/tables.h"
#include "fabric/itinerary.h"
#include "fault/knit_with.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "repair/builder.h"
#include "store/case_file.h"
#include "store/files.h"
#include "store/scratch.h"
#include "window/hands.h"
#include "window/pupil.h"

namespace loopmend::app {
namespace {

/// The piece in her hands.
struct HerPiece {
    Script script;
    FaultPlace fault;
    FaultyKnitting knitting;
    LookedAt looked;
    CasePicture picture = CasePicture::nothing;  ///< what strikes her
    int row = 0;                                 ///< and where
    int column = 0;
    int cameOut = 0;
};

HerPiece herPiece(const Script& script, const FaultPlace& fault) {
    auto knitting = knitWith(script, {}, {fault}, After::byReading);
    REQUIRE(knitting);
    LookedAt looked(*knitting->actual.fabric, *knitting->meant.fabric, &script);
    return {script, fault, std::move(*knitting), std::move(looked)};
}

class Knitter {
  public:
    Knitter(Hands& hands, const HerPiece& piece) : hands_(hands), piece_(piece) {}

    /// One answer, as her piece says.
    void answer() {
        const OwnKnitting& own = *hands_.app().own();
        const CaseQuestion question = *own.asked().question();
        const std::optional<std::size_t> which = choiceFor(question);
        INFO(question.words);
        if (!which) {
            hands_.press("own.cannot");
            return;
        }
        const std::string id = "own.answer." + std::to_string(*which);
        if (!hands_.isShown(id)) REQUIRE(hands_.press("own.all"));
        REQUIRE(hands_.press(id));
        if (!question.choices[*which].place) return;
        REQUIRE(hands_.app().own()->waiting() != nullptr);
        REQUIRE(hands_.click(at(place_.row, place_.column)));
        CHECK(hands_.app().own()->waiting() == nullptr);
    }

    bool settled() const { return hands_.app().own()->settled().settled; }
    bool asked() const { return hands_.app().own()->asked().question().has_value(); }

  private:
    struct Place {
        int row = 0, column = 0;
    };

    std::optional<std::size_t> choiceFor(const CaseQuestion& question) {
        for (std::size_t i = 0; i < question.choices.size(); ++i) {
            const CaseNote& note = question.choices[i].note;
            switch (question.kind) {
                case CaseNote::Kind::picture:
                    place_ = {piece_.row, piece_.column};
                    if (note.picture == piece_.picture) return i;
                    break;
                case CaseNote::Kind::cameOut:
                    if (note.seen.by == piece_.cameOut) return i;
                    break;
                case CaseNote::Kind::look: {
                    Sighting truth = loopmend::answer(question.look, piece_.looked);
                    place_ = {truth.row, truth.column};
                    Sighting said = note.seen;
                    if (question.choices[i].place) {
                        said.row = truth.row;
                        said.column = truth.column;
                    }
                    if (said == truth) return i;
                    break;
                }
                default: return 0;
            }
        }
        return std::nullopt;
    }

    /// On the model: the stitch that stands there.
    LoopId at(int row, int column) {
        const StitchPlaces places(hands_.fabric());
        LoopId nearest;
        int away = 1000;
        for (const auto& all : places.rows()) {
            for (const LoopId loop : all) {
                // Of a large piece only a part lies there.
                const auto there = hands_.app().own()->inPiece(places.of(loop));
                if (!there) continue;
                const int far = 10 * std::abs(there->row - row) + std::abs(there->column - column);
                if (far >= away) continue;
                away = far;
                nearest = loop;
            }
        }
        return nearest;
    }

    Hands& hands_;
    const HerPiece& piece_;
    Place place_;
};

void type(Hands& hands, const std::string& field, int number) {
    REQUIRE(hands.press(field));
    hands.type(std::to_string(number));
    hands.key(SDLK_TAB);
}

/// From the shelf to the first question.
void begin(Hands& hands, const std::string& ground, int stitches, int rows) {
    hands.key(SDLK_F2);
    REQUIRE(hands.press("shelf.wrong"));
    hands.key(SDLK_RETURN);
    REQUIRE(hands.press(ground));
    if (stitches > 0) type(hands, "own.stitches", stitches);
    type(hands, "own.rows", rows);
    REQUIRE(hands.press("own.begin"));
    REQUIRE(hands.app().own() != nullptr);
    REQUIRE(hands.app().own()->stage() == OwnKnitting::Stage::asking);
}

/// She mends it in place where that can be done, else as is best.
const PlannedMove* nextInPlace(const WaysBack& ways) {
    for (const WayBack& way : ways.all) {
        const bool inPlace = way.plan.family == PlanFamily::column && way.plan.proved && way.plan.ripsTo == 0;
        if (inPlace && !way.plan.moves.empty()) return &way.plan.moves.front();
    }
    return ways.hint();
}

/// Till it is known what happened; what it says is right. Then the model is mended by hand.
void throughTheCase(Hands& hands, const HerPiece& piece) {
    Knitter her(hands, piece);
    for (int i = 0; i < 24 && her.asked() && !her.settled(); ++i) her.answer();
    const OwnKnitting& own = *hands.app().own();
    REQUIRE(her.settled());
    const CaseExplanation& found = own.explanations().front();
    INFO(found.words);
    const bool same = found.id == piece.fault.id || std::find(found.sameAs.begin(), found.sameAs.end(),
                                                              piece.fault.id) != found.sameAs.end();
    CHECK(same);
    CHECK(std::abs(found.row - piece.fault.row) <= 1);
    CHECK(std::abs(found.stitch - piece.fault.stitch) <= 1);

    REQUIRE(hands.press("own.show.0"));
    FreePiece* model = hands.app().table().piece();
    REQUIRE(model != nullptr);
    CHECK(hands.app().own() == nullptr);
    const std::string meant = knotOf(model->meant());
    REQUIRE(knotOf(hands.fabric()) != meant);
    REQUIRE_FALSE(model->ways().all.empty());
    REQUIRE(hands.isShown("ways.way." + std::to_string(*model->ways().best)));
    Pupil pupil(hands, Pupil::By::mouse);
    for (int i = 0; i < 40 && knotOf(hands.fabric()) != meant; ++i) {
        const PlannedMove* next = nextInPlace(model->ways());
        REQUIRE(next != nullptr);
        INFO(textOf(next->move));
        REQUIRE(pupil.move(next->move));
    }
    CHECK(knotOf(hands.fabric()) == meant);
    // And back to where she came from.
    REQUIRE(hands.press("free.own"));
    CHECK(hands.app().own() != nullptr);
}

Script scriptOf(const std::string& words, int stitches, int rows) {
    auto script = expand(parse(words), stitches, rows);
    REQUIRE(script);
    return std::move(*script);
}

constexpr const char* kLace =
    "Cast on 19 sts.\nRow 1 (RS): k2, *yo, k2tog, k1; rep from * to last 2 sts, k2.\nRow 2: p to end.\n"
    "Repeat rows 1-2 5 more times.\n";

}  // namespace

TEST_CASE("one stitch short in lace, with its pattern: found by looks, mended on the model", "[window]") {
    const Scratch scratch;
    const std::string pattern = scratch.path("lace.txt");
    REQUIRE(writeFile(pattern, kLace));
    HerPiece piece = herPiece(scriptOf(kLace, 19, 12), {"missed_yo", 11, 9, 0});
    piece.cameOut = -1;
    Hands hands("", pattern);
    hands.key(SDLK_F2);
    REQUIRE(hands.press("shelf.wrong"));
    hands.key(SDLK_RETURN);
    REQUIRE(hands.press("own.table"));
    REQUIRE(hands.press("own.begin"));
    REQUIRE(hands.app().own()->stage() == OwnKnitting::Stage::asking);
    // The five things to point at stand there as pictures, higher than words alone would be.
    for (int i = 0; i < kCasePictures; ++i) {
        const std::string id = "own.answer." + std::to_string(i);
        const auto shown = std::find_if(hands.app().controls().begin(), hands.app().controls().end(),
                                        [&](const Control& control) { return control.id == id; });
        REQUIRE(shown != hands.app().controls().end());
        CHECK(shown->bottom - shown->top >= kSignPictureHeight);
    }
    throughTheCase(hands, piece);
}

TEST_CASE("a hole in plain, without a pattern; kept at every answer and taken up again", "[window]") {
    const Scratch scratch;
    HerPiece piece =
        herPiece(scriptOf("Row 1 (RS): k to end.\nRow 2: p to end.", 20, 14), {"accidental_yo", 13, 8, 0});
    piece.picture = CasePicture::hole;
    piece.row = 13;
    piece.column = 8;
    piece.cameOut = 1;
    std::size_t notes = 0;
    {
        Hands hands(scratch.folder());
        begin(hands, "own.ground.plain", 20, 14);
        Knitter her(hands, piece);
        her.answer();
        her.answer();
        notes = hands.app().own()->asked().notes().size();
    }
    REQUIRE(std::filesystem::exists(scratch.path("own-knitting.case")));
    Hands hands(scratch.folder());
    hands.key(SDLK_F2);
    REQUIRE(hands.press("shelf.own"));
    REQUIRE(hands.app().own() != nullptr);
    REQUIRE(hands.app().own()->stage() == OwnKnitting::Stage::asking);
    CHECK(hands.app().own()->asked().notes().size() == notes);
    // A step back takes the last answer back; she gives it again.
    hands.key(SDLK_BACKSPACE);
    CHECK(hands.app().own()->asked().notes().size() == notes - 1);
    throughTheCase(hands, piece);
}

TEST_CASE("a case from a file goes on in that file, and no other that waits is lost", "[window]") {
    const Scratch scratch;
    const auto notesIn = [&](const std::string& file) {
        MachineDisk disk;
        const auto read = readCase(disk, scratch.path(file));
        REQUIRE(read);
        return read->notes.size();
    };
    REQUIRE(writeFile(scratch.path("plain.txt"), "Row 1 (RS): k to end.\nRow 2: p to end.\n"));
    REQUIRE(writeFile(scratch.path("hers.case"),
                      R"({"pattern": "plain.txt", "stitches": 14, "rows_done": 8,
                          "noticed": [{"kind": "safe"}, {"kind": "picture", "picture": "nothing"}]})"));
    REQUIRE(writeFile(scratch.path("own-knitting.case"),
                      R"({"ground": "rib", "stitches": 12, "rows_done": 6,
                          "noticed": [{"kind": "safe"}, {"kind": "came-out", "by": -1}]})"));
    Hands hands(scratch.folder(), scratch.path("hers.case"));
    REQUIRE(hands.app().own() != nullptr);
    REQUIRE(hands.app().own()->stage() == OwnKnitting::Stage::asking);
    CHECK(hands.app().own()->start().stitches == 14);
    REQUIRE(hands.press("own.cannot"));
    CHECK(notesIn("hers.case") == 3);
    CHECK(notesIn("own-knitting.case") == 2);
    // Another piece: that which waits.
    REQUIRE(hands.press("own.anew"));
    REQUIRE(hands.app().own() != nullptr);
    CHECK(hands.app().own()->start().stitches == 12);
    // And one more: it makes room.
    REQUIRE(hands.press("own.anew"));
    REQUIRE(hands.press("own.ground.garter"));
    type(hands, "own.stitches", 10);
    type(hands, "own.rows", 6);
    REQUIRE(hands.press("own.begin"));
    CHECK(hands.app().notice().find("own-knitting-1.case") != std::string::npos);
    CHECK(notesIn("own-knitting-1.case") == 2);
    CHECK(notesIn("hers.case") == 3);
}

TEST_CASE("her own case opened as a file is the one that waits, and another piece begins anew", "[window]") {
    const Scratch scratch;
    REQUIRE(writeFile(scratch.path("own-knitting.case"),
                      R"({"ground": "rib", "stitches": 12, "rows_done": 6,
                          "noticed": [{"kind": "safe"}, {"kind": "came-out", "by": -1}]})"));
    Hands hands(scratch.folder(), scratch.path("own-knitting.case"));
    REQUIRE(hands.app().own() != nullptr);
    CHECK(hands.app().own()->start().stitches == 12);
    REQUIRE(hands.press("own.anew"));
    REQUIRE(hands.app().own() != nullptr);
    CHECK(hands.app().own()->stage() != OwnKnitting::Stage::asking);
}

TEST_CASE("a case that is damaged is not opened, and said to be so", "[window]") {
    const Scratch scratch;
    REQUIRE(writeFile(scratch.path("bad.case"), "{\"ground\": \"plain\",\n \"rows_done\": many}"));
    Hands hands("", scratch.path("bad.case"));
    CHECK(hands.app().own() == nullptr);
    CHECK(hands.app().notice().find("line 2") != std::string::npos);
}

TEST_CASE("of a piece too large to be drawn the part about the place lies there to be pointed at",
          "[window]") {
    HerPiece piece =
        herPiece(scriptOf("Row 1 (RS): k to end.\nRow 2: p to end.", 90, 80), {"wrong_kp", 71, 40, 0});
    Hands hands;
    begin(hands, "own.ground.plain", 90, 80);
    Knitter her(hands, piece);
    int pointed = 0;
    for (int i = 0; i < 20 && her.asked() && !her.settled(); ++i) {
        const OwnKnitting& own = *hands.app().own();
        CHECK_FALSE(own.isDrawn());
        REQUIRE(own.part());
        CHECK(hands.fabric().entryCount() < 4000);
        // What is asked about lies there, and the rows are called as in her piece.
        const CaseQuestion question = *own.asked().question();
        const StitchPlaces places(hands.fabric());
        bool there = question.columnTo == 0;
        for (const auto& row : places.rows()) {
            for (const LoopId loop : row) {
                const auto at = own.inPiece(places.of(loop));
                there = there || (at && at->row >= question.rowFrom && at->row <= question.rowTo &&
                                  at->column >= question.columnFrom && at->column <= question.columnTo);
            }
        }
        INFO(question.words << ", on the table " << own.part()->words(question.look.side));
        CHECK(there);
        her.answer();
        const CaseNote& note = own.asked().notes().back();
        if (note.kind == CaseNote::Kind::look && note.seen.what == Sighting::What::place) {
            ++pointed;
            CHECK(std::abs(note.seen.row - piece.fault.row) <= 1);
        }
    }
    CHECK(pointed > 0);
    REQUIRE(her.settled());
    const CaseExplanation& found = hands.app().own()->explanations().front();
    CHECK(std::abs(found.row - piece.fault.row) <= 1);
    CHECK(std::abs(found.stitch - piece.fault.stitch) <= 1);
    // The part from below it up to the needle, with it and ways back.
    const int deep = 80 - found.row;
    REQUIRE(hands.press("own.show.0"));
    FreePiece* model = hands.app().table().piece();
    REQUIRE(model != nullptr);
    CHECK(hands.fabric().entryCount() < 2000);
    REQUIRE(model->recipe().faults.size() == 1);
    CHECK(model->recipe().rows - model->recipe().faults.front().row == deep);
    CHECK(knotOf(hands.fabric()) != knotOf(model->meant()));
    CHECK_FALSE(model->ways().all.empty());
    CHECK(hands.app().notice().find("row 1 is your row " + std::to_string(found.row - 4)) !=
          std::string::npos);
    REQUIRE(hands.press("free.own"));
    CHECK(hands.app().own()->part());
}

TEST_CASE("a part says its stitches from the right as the side faces her", "[window]") {
    CaseStart start;
    start.ground = CaseGround::rib;
    start.stitches = 90;
    start.rowsDone = 80;
    const auto asked = Case::begin(start);
    REQUIRE(asked);
    const auto part = OwnPart::about(*asked, 40, 42, 20, 24);
    REQUIRE(part);
    int from = 1000;
    int to = 0;
    int numbers[4] = {};
    const auto read = [&](Side facing) {
        const std::string words = part->words(facing);
        INFO(words);
        REQUIRE(std::sscanf(words.c_str(), "rows %d to %d, stitches %d to %d", &numbers[0], &numbers[1],
                            &numbers[2], &numbers[3]) == 4);
        from = numbers[2];
        to = numbers[3];
    };
    read(Side::right);
    CHECK(numbers[0] < 40);
    CHECK(numbers[1] > 42);
    CHECK(from < 20);
    CHECK(to > 24);
    const int right = from;
    const int left = to;
    read(Side::wrong);
    const int width = asked->tables().cloth().width(41);
    CHECK(from == width + 1 - left);
    CHECK(to == width + 1 - right);
    CHECK(part->rowsBelow() == numbers[0] - 1);
    const auto first = OwnPart::about(*asked, 1, 3, 20, 24);
    REQUIRE(first);
    CHECK(first->rowsBelow() == 0);
    // Every stitch of the part that is of the piece stands where the piece has such a one.
    const auto piece = FreePiece::from(part->recipe());
    REQUIRE(piece);
    const Fabric& fabric = piece->work().knitter().fabric();
    const StitchPlaces places(fabric);
    const StitchPlaces whole(asked->fabric());
    // Knitted or purled.
    const auto sideOf = [](const Fabric& of, LoopId loop) { return of[of.linksOf(loop).front()].form.side; };
    int same = 0;
    for (const auto& row : places.rows()) {
        for (const LoopId loop : row) {
            const auto at = part->inPiece(places.of(loop));
            if (!at || at->row < numbers[0]) continue;
            const auto& there = whole.rows()[static_cast<std::size_t>(at->row)];
            const auto it = std::find_if(there.begin(), there.end(),
                                         [&](LoopId other) { return whole.of(other).column == at->column; });
            REQUIRE(it != there.end());
            CHECK(sideOf(asked->fabric(), *it) == sideOf(fabric, loop));
            ++same;
        }
    }
    CHECK(same > 100);
}

TEST_CASE("an open loop in plain, how many stitches is not known", "[window]") {
    HerPiece piece =
        herPiece(scriptOf("Row 1 (RS): k to end.\nRow 2: p to end.", 24, 12), {"drop_left_behind", 11, 9, 0});
    piece.picture = CasePicture::looseLoop;
    piece.row = 10;
    piece.column = 9;
    piece.cameOut = -1;
    Hands hands;
    begin(hands, "own.ground.plain", 0, 12);
    throughTheCase(hands, piece);
}

TEST_CASE("what she types for her own knitting is looked at, and told what is wrong with it", "[window]") {
    Hands hands;
    hands.key(SDLK_F2);
    REQUIRE(hands.press("shelf.own"));
    REQUIRE(hands.press("own.ground.rib"));
    REQUIRE(hands.press("own.begin"));
    CHECK(hands.app().notice().find("How many rows") != std::string::npos);
    REQUIRE(hands.press("own.stitches"));
    hands.type("many");
    hands.key(SDLK_TAB);
    REQUIRE(hands.press("own.begin"));
    CHECK(hands.app().notice().find("no number of stitches") != std::string::npos);
    CHECK(hands.app().own()->stage() == OwnKnitting::Stage::size);
    // Tools do nothing on a model that is only asked about.
    hands.key(SDLK_k);
    CHECK(hands.app().notice().find("Tools come") != std::string::npos);
}

}  // namespace loopmend::app

// SPDX-License-Identifier: MIT
// Looks as lines of text, and in a knitter's words.
#include <algorithm>
#include <charconv>
#include <cstdlib>

#include <fmt/format.h>

#include "pattern/plain_words.h"
#include "reading/answer.h"

namespace loopmend {

namespace {

using What = Sighting::What;

std::string range(int from, int to) {
    return from == to ? fmt::format("{}", from) : fmt::format("{}-{}", from, to);
}

bool patch(LookWay way) {
    return way == LookWay::searchPatch || way == LookWay::stretchPatch || way == LookWay::slantLight;
}
bool needsRow(LookWay way) {
    return way != LookWay::armsLength && way != LookWay::bothEnds;
}
bool needsColumn(LookWay way) {
    return needsRow(way) && way != LookWay::rowFits;
}

bool readNumber(std::string_view text, int& out) {
    const char* end = text.data() + text.size();
    const auto got = std::from_chars(text.data(), end, out);
    return got.ec == std::errc() && got.ptr == end && out >= 0 && out <= 1'000'000;
}

bool readRange(std::string_view text, int& from, int& to) {
    const std::size_t dash = text.find('-');
    if (dash == std::string_view::npos) {
        if (!readNumber(text, from)) return false;
        to = from;
        return true;
    }
    return readNumber(text.substr(0, dash), from) && readNumber(text.substr(dash + 1), to);
}

std::string_view lineWords(LandmarkKind kind) {
    switch (kind) {
        case LandmarkKind::spine: return "the spine of double decreases";
        case LandmarkKind::eyelets: return "the line of holes";
        case LandmarkKind::rib: return "the rib";
        case LandmarkKind::cable: return "the cable";
        case LandmarkKind::rightLeaning: return "the line of decreases that lean right";
        case LandmarkKind::leftLeaning: return "the line of decreases that lean left";
        case LandmarkKind::eyeletRow: return "the row of holes";
        case LandmarkKind::cableEdge: return "the edge of the cable";
        case LandmarkKind::ridge: return "the ridge";
        case LandmarkKind::edge: return "the edge";
        case LandmarkKind::colours: return "the line where the colors meet";
        case LandmarkKind::turn: return "the turn";
    }
    return "the line";
}

/// Where something is: by touch if the piece is known, else by number.
class Places {
  public:
    explicit Places(const LookedAt* piece, Side side) : piece_(piece), side_(side) {}

    std::string row(int r) const {
        if (piece_ == nullptr || r > piece_->rows()) return fmt::format("row {}", r);
        const int below = piece_->rows() - r;
        if (r == 0) return "the cast-on";
        const std::string landmark = holes(r);
        if (below == 0) return fmt::format("the row at the needle (row {}{})", r, landmark);
        if (below == 1) return fmt::format("the row under the one at the needle (row {}{})", r, landmark);
        return fmt::format("the {} row counted down from the needle (row {}{})", ordinalNumber(below + 1), r,
                           landmark);
    }
    std::string stitch(int r, int column) const {
        const std::string_view faces =
            side_ == Side::right ? "as the right side faces you" : "as the wrong side faces you";
        return fmt::format("the {} stitch from the right {}", ordinalNumber(shown(r, column)), faces);
    }
    std::string stitches(int r, int from, int to) const {
        const int a = shown(r, from);
        const int b = shown(r, to);
        return fmt::format("stitches {} to {} from the right, {} side facing you", std::min(a, b),
                           std::max(a, b), side_ == Side::right ? "right" : "wrong");
    }

  private:
    int shown(int r, int column) const {
        if (side_ == Side::right || piece_ == nullptr) return column;
        const int width = piece_->width(r);
        return width >= column ? width + 1 - column : column;
    }
    std::string holes(int r) const {
        const Reading& reading = piece_->reading();
        if (r < 0 || r >= static_cast<int>(reading.rows.size())) return "";
        const auto& cells = reading.rows[static_cast<std::size_t>(r)].cells;
        const bool some = std::any_of(cells.begin(), cells.end(),
                                      [](const Cell& c) { return c.symbol.sight == Sight::hole; });
        return some ? ", one with holes" : "";
    }
    const LookedAt* piece_;
    Side side_;
};

std::string ask(const Look& look, const Places& at) {
    const int low = std::min(look.rowFrom, look.rowTo);
    const int high = std::max(look.rowFrom, look.rowTo);
    const std::string rows = low == high ? at.row(low) : fmt::format("rows {} to {}", low, high);
    const auto span = [&] { return at.stitches(low, look.columnFrom, look.columnTo); };
    const auto spot = [&] {
        return fmt::format("{}, {}", at.row(look.rowFrom), at.stitch(look.rowFrom, look.columnFrom));
    };
    switch (look.way) {
        case LookWay::armsLength: return "Hold it at arm's length. Which part looks different, if any?";
        case LookWay::countSpan: return fmt::format("Count in {}: {}. How many are there?", rows, span());
        case LookWay::rowFits:
            return fmt::format(
                "Lay row {} of the pattern against the stitches on the needle. Does it come out?",
                look.rowFrom);
        case LookWay::closeLook:
            return fmt::format(
                "Look closely, from both sides, at {}, and at what is round it. What is there?", spot());
        case LookWay::follow:
            return fmt::format("Follow {} down from row {} to row {}, near {}. Where does it break first?",
                               lineWords(look.landmark), high, low, at.stitch(high, look.columnFrom));
        case LookWay::compareRepeat:
            return fmt::format("Compare {}, {}, with the pattern. Where do they differ first?", rows, span());
        case LookWay::oddRepeat:
            return fmt::format("Look along {}. Which repeat is unlike the others?", rows);
        case LookWay::searchPatch: return fmt::format("Search {}, {}. Is anything odd?", rows, span());
        case LookWay::stretchPatch:
            return fmt::format(
                "Have a pin ready and stretch {}, {}, gently sideways. Does a stitch stand free?", rows,
                span());
        case LookWay::slantLight:
            return fmt::format(
                "Let light fall in from the side on {}, {}, and rub a finger over it. What stands up?", rows,
                span());
        case LookWay::tug: return fmt::format("Tug gently at {}. Does anything give?", spot());
        case LookWay::turnOver: return fmt::format("Turn it over and look at {}. What is there?", spot());
        case LookWay::bothEnds: return "Count the rows up both edges. Are there as many?";
    }
    return "";
}

}  // namespace

std::string text(const Look& look) {
    std::string line(name(look.way));
    char between = ':';
    const auto add = [&](std::string_view key, const std::string& value) {
        line += fmt::format("{}{}={}", between, key, value);
        between = ',';
    };
    if (look.way == LookWay::follow) add("line", std::string(name(look.landmark)));
    if (needsRow(look.way))
        add("row", patch(look.way) || look.way == LookWay::follow ? range(look.rowFrom, look.rowTo)
                                                                  : range(look.rowFrom, look.rowFrom));
    if (needsColumn(look.way)) add("column", range(look.columnFrom, look.columnTo));
    if (look.way == LookWay::oddRepeat) add("repeat", range(look.width, look.width));
    if (look.side == Side::wrong) add("side", "ws");
    return line;
}

tl::expected<Look, std::string> lookFrom(std::string_view line) {
    Look look;
    const auto refuse = [](std::string message) { return tl::unexpected<std::string>(std::move(message)); };
    const std::size_t colon = line.find(':');
    const std::string_view way = line.substr(0, colon);
    bool known = false;
    for (int w = 0; w < kLookWays && !known; ++w) {
        known = name(static_cast<LookWay>(w)) == way;
        if (known) look.way = static_cast<LookWay>(w);
    }
    if (!known)
        return refuse(
            fmt::format("there is no look {}; looks are glance, count, row-fits, close, follow, "
                        "compare, odd-repeat, search, stretch, slant, tug, turn-over, both-ends",
                        way));
    bool row = false;
    bool column = false;
    std::string_view rest = colon == std::string_view::npos ? std::string_view() : line.substr(colon + 1);
    while (!rest.empty()) {
        const std::size_t comma = rest.find(',');
        const std::string_view part = rest.substr(0, comma);
        rest = comma == std::string_view::npos ? std::string_view() : rest.substr(comma + 1);
        const std::size_t equals = part.find('=');
        if (equals == std::string_view::npos)
            return refuse(fmt::format("{} says nothing; say it as row=18 or column=3-7", part));
        const std::string_view key = part.substr(0, equals);
        const std::string_view value = part.substr(equals + 1);
        int none = 0;
        bool good = false;
        if (key == "row") {
            good = row = readRange(value, look.rowFrom, look.rowTo);
        } else if (key == "column") {
            good = column = readRange(value, look.columnFrom, look.columnTo);
        } else if (key == "repeat") {
            good = readRange(value, look.width, none) && look.width > 0;
        } else if (key == "side") {
            good = value == "rs" || value == "ws";
            look.side = value == "ws" ? Side::wrong : Side::right;
        } else if (key == "line") {
            for (int k = 0; k < kLandmarkKinds && !good; ++k) {
                good = name(static_cast<LandmarkKind>(k)) == value;
                if (good) look.landmark = static_cast<LandmarkKind>(k);
            }
        } else {
            return refuse(
                fmt::format("{} is no part of a look; parts are row, column, side, line, repeat", key));
        }
        if (!good) return refuse(fmt::format("{} cannot be {}", key, value));
    }
    if (needsRow(look.way) && !row) return refuse(fmt::format("{} wants a row, as in row=18", way));
    if (needsColumn(look.way) && !column)
        return refuse(fmt::format("{} wants a column, counted from the right edge, as in column=22", way));
    if (look.way == LookWay::oddRepeat && look.width == 0)
        return refuse("odd-repeat wants the stitches of a repeat, as in repeat=6");
    if (patch(look.way)) {
        const auto loops = (std::int64_t{std::abs(look.rowTo - look.rowFrom)} + 1) *
                           (std::int64_t{std::abs(look.columnTo - look.columnFrom)} + 1);
        const int most = look.way == LookWay::slantLight ? kMostUnderLight : kMostInPatch;
        if (loops > most)
            return refuse(
                fmt::format("a patch of {} loops is too big to look at at once: at most {}", loops, most));
    }
    if (std::abs(look.rowTo - look.rowFrom) > 10'000 || std::abs(look.columnTo - look.columnFrom) > 10'000)
        return refuse("that is more than a piece of knitting has");
    return look;
}

std::string words(OddSign sign, Terms terms) {
    switch (sign) {
        case OddSign::none: return "nothing odd";
        case OddSign::v: return "a V";
        case OddSign::bump: return "a bump";
        case OddSign::hole: return "a hole";
        case OddSign::noHole: return "no hole where one should be";
        case OddSign::leansRight: return "stitches joined, leaning right";
        case OddSign::leansLeft: return "stitches joined, leaning left";
        case OddSign::upright: return "stitches joined, the middle one upright on top";
        case OddSign::gathered: return "several heads gathered in one bump";
        case OddSign::noJoin: return "a stitch less or more: nothing joined where something should be";
        case OddSign::crossRight: return "columns crossed to the right";
        case OddSign::crossLeft: return "columns crossed to the left";
        case OddSign::noCross: return "no crossing where one should be";
        case OddSign::crossedFeet: return "crossed feet";
        case OddSign::tall: return "a tall stitch, a strand behind it";
        case OddSign::acrossStrand: return "a strand lying across a stitch";
        case OddSign::twoFromOne: return "more than one stitch out of one";
        case OddSign::onBar: return "a stitch standing on the bar";
        case OddSign::freeLoop: return "a stitch standing free";
        case OddSign::ladder: return "a ladder";
        case OddSign::split: return "a stitch with its plies apart";
        case OddSign::otherColour:
            return terms == Terms::uk ? "a stitch of another colour" : "a stitch of another color";
        case OddSign::edge: return "an edge";
        case OddSign::slides: return "the pattern standing over other stitches from here on";
        case OddSign::longBar: return "a long bar";
        case OddSign::slack: return "a stitch larger than the others";
        case OddSign::tight: return "a stitch smaller than the others";
        case OddSign::other: return "something odd";
    }
    return "";
}

std::string words(const Look& look, const LookedAt& piece, Terms) {
    return ask(look, Places(&piece, look.side));
}
std::string words(const Look& look, Terms) {
    return ask(look, Places(nullptr, look.side));
}

std::string words(const Look& look, const Sighting& s, Terms terms) {
    switch (s.what) {
        case What::nothing:
            switch (look.way) {
                case LookWay::follow: return "It runs through without a break.";
                case LookWay::compareRepeat: return "It is as the pattern says.";
                case LookWay::oddRepeat: return "All repeats are alike.";
                case LookWay::tug: return "Nothing gives.";
                case LookWay::stretchPatch: return "No stitch stands free.";
                default: return "Nothing looks odd.";
            }
        case What::number:
            if (look.way == LookWay::bothEnds)
                return s.by == 0 ? "There are as many rows up one edge as up the other."
                                 : fmt::format("The {} edge has {} row{} more.", s.by > 0 ? "right" : "left",
                                               std::abs(s.by), std::abs(s.by) == 1 ? "" : "s");
            if (look.way == LookWay::rowFits)
                return s.by == 0 ? "It comes out."
                                 : fmt::format("It ends {} {}.", std::abs(s.by), s.by < 0 ? "short" : "over");
            return s.by == 0 ? "There are as many as there should be."
                             : fmt::format("There {} {} too {}.", std::abs(s.by) == 1 ? "is" : "are",
                                           std::abs(s.by), s.by < 0 ? "few" : "many");
        case What::beyond: return "It is out by more than that.";
        case What::ninth: {
            constexpr std::string_view kAcross[] = {"right", "middle", "left"};
            constexpr std::string_view kDown[] = {"the rows nearest the needle", "the rows below those",
                                                  "the old rows"};
            const int i = std::clamp(s.by - 1, 0, 8);
            return fmt::format("It looks different in {}, {} as the right side faces you.", kDown[i / 3],
                               kAcross[i % 3]);
        }
        case What::place:
            if (look.way == LookWay::follow) return fmt::format("It breaks in row {}.", s.row);
            if (look.way == LookWay::compareRepeat)
                return fmt::format("They differ first at the {} stitch from the right edge of row {}.",
                                   ordinalNumber(s.column), s.row);
            return fmt::format("There is {} in row {}, column {} from the right edge of the right side.",
                               words(s.oddity, terms), s.row, s.column);
        case What::sign:
            return look.way == LookWay::tug && s.oddity == OddSign::longBar
                       ? "A long bar gives."
                       : fmt::format("There is {}.", words(s.oddity, terms));
        case What::repeat: return fmt::format("Repeat {}, in the order worked, is unlike the others.", s.by);
        case What::unnamed: return "Something is there, but none of these.";
        case What::unclear: return "What was to be looked at is not there.";
    }
    return "";
}

}  // namespace loopmend

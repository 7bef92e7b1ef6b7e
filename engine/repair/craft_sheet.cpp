// SPDX-License-Identifier: MIT
#include "repair/craft_sheet.h"

#include <array>

namespace loopmend {

namespace {

constexpr std::string_view kHook = "crochet hook";
constexpr std::string_view kPinHook = "crochet hook, pins";
constexpr std::string_view kBlunt = "blunt needle";
constexpr std::string_view kRight = "right side";
constexpr std::string_view kAny = "either side";
constexpr std::string_view kKnitFace = "the side on which the column is knit";
constexpr std::string_view kJustWorked = "the side of the row just worked";
constexpr std::string_view kWrong = "wrong side";
constexpr std::string_view kRungs = "every rung is there, and their order is known";
constexpr std::string_view kSimple = "only single stitches stand above it in that column";
constexpr std::string_view kRungRisk = "a rung is skipped or twisted";
constexpr std::string_view kStrandRisk = "strands come out of order";
constexpr std::string_view kNoPull = "Do not pull the work sideways while a stitch hangs open.";
constexpr std::string_view kScissors = "Scissors only when both rows are threaded and counted.";
constexpr std::string_view kLong = "It is long work: rest your hands every half hour.";

/// In the order of CraftRepair.
constexpr std::array<CraftSheet, kCraftRepairs> kSheets = {{
    {"pin or marker", kAny, "a stitch hangs open", "the pin goes through the yarn", kNoPull, 0},
    {"", kJustWorked, "the mistake is in the newest row", "a stitch is lost, or turned round", "", 0},
    {"thin needle, pin", kJustWorked, "it is known how the stitch was worked",
     "a stitch of a stack stays behind", "Pin the stitch that was passed over before you draw the yarn out.",
     0},
    {"thin needle", kRight, "the yarn is not woven in", "stitches run while no needle holds them", kLong, 0},
    {"thread, blunt needle", kRight, "a row that is right lies below it",
     "the thread wanders from row to row", "Count the stitches on the thread before you take anything out.",
     0},
    {"thread, blunt needle", kAny, "a plain row whose count is right", "it is pierced later",
     "Not through the markers.", 0},
    {"", kAny, "the stitch is open", "its legs are crossed", "Look which leg is in front before you knit it.",
     0},
    {"two needles", "the side on which that stitch is knit", "one rung only", "it is drawn to the other side",
     "", 1},
    {kPinHook, kKnitFace, kRungs, kRungRisk, kNoPull, 1},
    {kPinHook, kKnitFace, kRungs, kRungRisk, kNoPull, 1},
    {kPinHook, kAny, kRungs, "two alike one above the other", kNoPull, 1},
    {kPinHook, kKnitFace, kRungs, "knits and purls are mixed in one column", kNoPull, 1},
    {"crochet hook, blunt needle", kRight, "three short rungs at the most", "it puckers, or a ply breaks",
     kNoPull, 2},
    {kPinHook, kRight, kSimple, kRungRisk, "One column at a time.", 1},
    {"crochet hook, board", kRight, "the edge loops are sorted",
     "an edge loop is twisted, or its arms change places", "Pin the edge flat first: it curls.", 2},
    {kPinHook, kRight, kSimple, kRungRisk, kNoPull, 1},
    {"", kAny, "it is missing one row under the needle", "it is lifted twisted", "", 1},
    {kHook, kRight, "two strands lie bare one above the other", "the strands change places", "", 2},
    {kBlunt, kRight, "the column begins at that loop, a few rows down", "a slack band stays", "", 2},
    {"", kAny, "the yarn-over is on the needle", "it is worked open again", "", 1},
    {kHook, "the edge", "both stitches stand on one", "the edge is loose", "", 1},
    {kHook, kRight, kSimple, "a ply breaks", kNoPull, 1},
    {kHook, kKnitFace, "the strand that goes by lies at the column", "the stitch is tight", "", 1},
    {kHook, kAny, "both stitches are found", "the lower one runs", kNoPull, 1},
    {"crochet hook, pins", kRight, "both columns are single stitches since", "slack stays", kNoPull, 1},
    {"needle", kRight, "the strand lies bare", "it is tight", "", 1},
    {"crochet hook, pins", kRight, "the freed column is two rows high at the most", "it is tight", kNoPull,
     2},
    {kPinHook, kRight, "only single stitches stand above the decrease", "two stitches run on", kNoPull, 1},
    {kPinHook, kRight, "both columns are single stitches above it", "rungs change columns", kNoPull, 1},
    {kPinHook, kRight, "the three stitches under it are there", "their order", kNoPull, 1},
    {kHook, kRight, "the column begins at the increase", "a short strand at the new place", "", 1},
    {kHook, kRight, "the column begins at a lifted strand", "the strand is turned the wrong way", "", 1},
    {"two thin needles, cable needle", kRight, "no stitch trades places with the ground", kStrandRisk,
     "Lay each strand out in its order, and pin it.", 1},
    {"two thin needles", kRight, "the arm's columns alone come undone", "the arm goes to the wrong face",
     "Say front or back aloud before you cross.", 1},
    {"two thin needles, pins, chart", kRight, "the stitches of the panel come out even in every row",
     "all its stitches are lost", "A thread on both sides of it first, and by daylight.", 2},
    {"blunt needle, matching yarn", kRight, "yarn of the color is there", "it is pulled tight", "", 2},
    {kHook, kRight, "both colors lie in that row", "the other strand is taken", "", 1},
    {kBlunt, "both sides", "the strand is whole", "a ply is split", "Never cut a snag.", 1},
    {"", kRight, "the turn is found", "rows are missed", "", 0},
    {"scissors, two threads, blunt needle, yarn", kRight, "both rows beside it are threaded", "everything",
     kScissors, 2},
    {"blunt needle, matching yarn", kWrong, "the stitch is open", "it puckers", "", 2},
    {"", kAny, "the round has only begun", "it is still twisted",
     "Lay the edge flat all the way round first.", 1},
    {"needle", kAny, "the last end is found", "the yarn frays", "", 0},
    {"", kRight, "the ground bears it: no lace, no ribbing", "later counts",
     "Write it down: rows are counted from here on.", 1},
    {"", kAny, "nothing of it can run", "regret", "", 3},
    {kBlunt, kRight, "there is slack nearby", "it is uneven", "", 1},
    {kHook, kRight, "the edge stitch is whole", "a hole", "", 1},
    {"blunt needle, matching yarn", kWrong, "every stitch round the gap is held",
     "it puckers, or the yarn shows on the right side",
     "Look at the right side before you weave the ends in.", 2},
    {"", kAny, "there is nothing to keep, or the shape is lost", "the same slip again",
     "Keep the old piece until the new one has passed that row.", 0},
    {kBlunt, kWrong, "an end hangs there", "it shows, or slips out", "Not flush: a smooth end slips out.", 1},
    {"thicker or thinner needle", kRight, "the last end is found", "the wrong strand is taken", "", 1},
    {"blunt needle, matching yarn", kRight, "the stitches below and above it are there",
     "it is of another size", "Pull at neither end.", 2},
    {"blunt needle, fine yarn", kWrong, "the strand is whole and as long as its span",
     "it shows on the right side, or draws in", "", 0},
    {"water or steam, towel, board, pins", "both sides", "nothing hangs open, and the colors are fast",
     "felting, flattening, stretching", "Synthetics flatten for good under steam.", 1},
}};

}  // namespace

CraftSheet sheetFor(CraftRepair repair) {
    return kSheets[static_cast<std::size_t>(repair)];
}

}  // namespace loopmend

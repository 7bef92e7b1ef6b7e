// SPDX-License-Identifier: MIT
// 75 stitch patterns from public-domain books (patterns.tsv: source, place and ebook number in each line):
// knitted, written as text, loaded, and read back from both sides.
#include "patterns_tsv.h"

#include "fabric/itinerary.h"
#include "pattern/counts.h"
#include "pattern/working.h"
#include "reading/read.h"
#include "reading/script.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <set>
#include <string>

using namespace loopmend;
using namespace loopmend::outside;

namespace {

// What an operation looks like from the right side if it was worked with that side facing. Leans of
// decreases: Th. de Dillmont, Encyclopedia of Needlework (1880s), chapter Knitting; the rest common practice.
std::vector<std::string> looks(const Step& step) {
    switch (step.op) {
        case Op::knit: return {"k"};
        case Op::purl: return {"p"};
        case Op::knitTbl: return {"k\\"};
        case Op::purlTbl: return {"p\\"};
        case Op::yarnOver: return std::vector<std::string>(static_cast<std::size_t>(step.count), "o");
        case Op::k2tog: return {"k2/"};
        case Op::ssk: return {"k2\\"};
        case Op::k2togTbl: return {"k2\\t\\"};
        case Op::p2tog: return {"p2/"};
        case Op::p2togTbl: return {"p2\\t\\"};
        case Op::ssp: return {"p2\\"};
        case Op::k3tog: return {"k3/321"};
        case Op::k3togTbl: return {"k3\\123t\\"};
        case Op::p3tog: return {"p3/321"};
        case Op::sk2p: return {"k3\\132"};
        case Op::s2kp: return {"k3|213"};
        case Op::slipPurlwiseBack: return {"s"};
        case Op::slipPurlwiseFront: return {"s-"};
        case Op::kfb: return {"k.1of2", "k\\.2of2"};
        default: return {};
    }
}

// The other side of the same: V and bump change, the hand stays, the stack is turned over and mirrored.
std::string turned(const std::string& look) {
    std::string out = look;
    if (out[0] == 'k') {
        out[0] = 'p';
    } else if (out[0] == 'p') {
        out[0] = 'k';
    } else if (out == "s") {
        return "s-";
    } else if (out == "s-") {
        return "s";
    }
    if (const auto of = out.find("of2"); of != std::string::npos)
        out[of - 1] = out[of - 1] == '1' ? '2' : '1';
    if (out.size() > 3 && out[1] == '3') {
        std::reverse(out.begin() + 3, out.begin() + 6);
        for (int i = 3; i < 6; ++i) {
            char& digit = out[static_cast<std::size_t>(i)];
            digit = static_cast<char>('4' - digit + '0');
        }
    }
    return out;
}

bool plain(const Script& script) {
    for (const WorkedRow& row : script.rows) {
        for (const Step& step : row.steps) {
            if (looks(step).empty()) return false;
        }
    }
    return true;
}

std::string told(const std::vector<Step>& steps) {
    std::string text;
    for (const Step& step : steps)
        text += std::string(name(step.op)) + " " + std::to_string(step.count) + ", ";
    return text;
}

}  // namespace

TEST_CASE("book patterns are read back as written, from text, stitch by stitch on both sides", "[outside]") {
    int readBack = 0;
    int seen = 0;
    for (const BookPattern& book : bookPatterns()) {
        for (const int repeats : {2, 3}) {
            INFO(book.id << " " << book.name << ", " << repeats << " repeats");
            const auto expanded =
                expand(book.pattern, book.castOn(repeats), static_cast<int>(book.counts.size()));
            REQUIRE(expanded.has_value());
            const Script script = asRead(*expanded);
            const auto knitting = knit(script);
            INFO((knitting ? std::string() : sentence(knitting.error())));
            REQUIRE(knitting.has_value());
            const auto fabric = fabricFrom(itinerary(*knitting->fabric));
            REQUIRE(fabric.has_value());

            const ScriptReading reading = readScript(*fabric);
            INFO(sentence(reading.unnamed));
            CHECK(reading.unnamed.empty());
            CHECK(reading.script.castOn == script.castOn);
            CHECK(reading.script.round == script.round);
            REQUIRE(reading.script.rows.size() == script.rows.size());
            for (std::size_t r = 0; r < script.rows.size(); ++r) {
                INFO("row " << r + 1 << ": " << told(script.rows[r].steps) << "\nread "
                            << told(reading.script.rows[r].steps));
                CHECK(reading.script.rows[r].steps == script.rows[r].steps);
                CHECK(reading.script.rows[r].facing == script.rows[r].facing);
            }
            ++readBack;

            if (!plain(script)) continue;
            ++seen;
            const Reading right = readFrom(*fabric, Side::right);
            const Reading wrong = readFrom(*fabric, Side::wrong);
            for (const WorkedRow& row : script.rows) {
                std::vector<std::string> expectedRight;
                std::vector<std::string> expectedWrong;
                for (const Step& step : row.steps) {
                    std::vector<std::string> here = looks(step);
                    const bool facesRight = row.facing == Facing::right;
                    for (const std::string& look : here) {
                        expectedRight.push_back(facesRight ? look : turned(look));
                        expectedWrong.push_back(facesRight ? turned(look) : look);
                    }
                }
                if (row.facing == Facing::wrong) {
                    std::reverse(expectedRight.begin(), expectedRight.end());
                    std::reverse(expectedWrong.begin(), expectedWrong.end());
                }
                const auto codes = [&](const Reading& side) {
                    std::vector<std::string> all;
                    for (const Cell& cell : side.rows[static_cast<std::size_t>(row.number)].cells)
                        all.push_back(code(cell.symbol));
                    return all;
                };
                INFO("row " << row.number);
                CHECK(codes(right) == expectedRight);
                CHECK(codes(wrong) == expectedWrong);
            }
        }
    }
    CHECK(readBack == 150);
    CHECK(seen == 120);  // the others bind off, cross or make several of one
}

// SPDX-License-Identifier: MIT
//
// Somebody's own knitting: one look after another, on a model of it.
#include <algorithm>
#include <filesystem>

#include <fmt/format.h>
#include <imgui.h>

#include "app/app.h"
#include "pattern/numbers.h"
#include "pattern/parse.h"
#include "repair/builder.h"
#include "store/case_file.h"
#include "store/files.h"

namespace loopmend::app {

namespace {

/// Lit one by one; a larger stretch is framed only.
constexpr std::size_t kMostLit = 400;

template <std::size_t N>
void step(std::array<char, N>& text, int by) {
    const int now = std::max(0, wholeNumber(text.data()).value_or(0) + by);
    const std::string digits = now > 0 ? std::to_string(now) : std::string();
    if (digits.size() >= N) return;
    text.fill('\0');
    std::copy(digits.begin(), digits.end(), text.begin());
}

bool isIn(const StitchPlace& at, int rowFrom, int rowTo, int columnFrom, int columnTo) {
    const bool columns = columnTo <= 0 || (at.column >= columnFrom && at.column <= columnTo);
    return at.row >= rowFrom && at.row <= rowTo && columns;
}

/// The case that a file tells, taken up. The failure has no stop at its end.
tl::expected<OwnKnitting, std::string> ownIn(const std::string& path) {
    MachineDisk disk;
    const auto file = readCase(disk, path);
    if (!file) return tl::unexpected<std::string>(file.error().message);
    return OwnKnitting::from(file->start, file->notes);
}

}  // namespace

std::string App::ownPath() const {
    if (!ownFile_.empty()) return ownFile_;
    return start_.folder.empty() ? std::string() : start_.folder + "/own-knitting.case";
}

std::string App::layOwnAside() {
    MachineDisk disk;
    std::error_code ignored;
    for (int n = 1;; ++n) {
        const std::string name = fmt::format("own-knitting-{}.case", n);
        const std::string path = start_.folder + "/" + name;
        if (std::filesystem::exists(path, ignored)) continue;
        return disk.rename(ownPath(), path) == 0 ? name : std::string();
    }
}

/// What was asked before the program was closed.
void App::takeUpOwn() {
    auto own = ownIn(ownPath());
    if (!own) {
        const std::string aside = layOwnAside();
        notice(own.error() + (aside.empty() ? "." : ". The file lies aside as " + aside + "."));
        return;
    }
    own_ = std::move(*own);
    ownKept_ = own_->version();
}

/// Another case that she had begun makes room, but is not lost.
void App::layOtherAside() {
    std::error_code ignored;
    if (start_.folder.empty() || !std::filesystem::exists(ownPath(), ignored)) return;
    MachineDisk disk;
    const auto file = readCase(disk, ownPath());
    const auto tells = [](const CaseNote& note) { return note.kind != CaseNote::Kind::safe; };
    if (file && std::none_of(file->notes.begin(), file->notes.end(), tells)) return;
    const std::string aside = layOwnAside();
    if (!aside.empty()) notice("What you had been asked before lies aside as " + aside + ".");
}

void App::openCase(const std::string& path) {
    auto own = ownIn(path);
    if (!own) {
        notice("Not opened: " + own.error() + ".");
        return;
    }
    own_ = std::move(*own);
    ownFile_.clear();
    std::error_code ignored;
    if (!std::filesystem::equivalent(path, ownPath(), ignored)) ownFile_ = path;
    ownKept_ = own_->version();
    openOwn(false);
}

/// The model shows the side that she is to look at; she may turn it as she likes.
void App::turnToLook() {
    if (!ownIsAsking() || own_->version() == turnedFor_) return;
    if (!own_->isDrawn()) layOwn();
    turnedFor_ = own_->version();
    const auto& question = own_->asked().question();
    if (!question || question->kind != CaseNote::Kind::look) return;
    const LookWay way = question->look.way;
    if (way == LookWay::bothEnds || way == LookWay::rowFits) return;  // either side does
    if (table_->seen() != question->look.side) table_->turnOver();
}

/// At every answer, whole or not at all: nothing she has said is lost.
void App::keepOwn() {
    turnToLook();
    if (ownPath().empty() || !own_ || own_->stage() != OwnKnitting::Stage::asking) return;
    if (own_->version() == ownKept_) return;
    ownKept_ = own_->version();
    MachineDisk disk;
    const auto written = writeCase(disk, ownPath(), own_->asked().start(), own_->asked().notes());
    if (!written) notice("What you answered could not be kept: " + written.error().message + ".");
}

std::string App::ownWaits() const {
    if (own_) return own_->stage() == OwnKnitting::Stage::asking ? own_->name() : std::string();
    std::error_code ignored;
    return !ownPath().empty() && std::filesystem::exists(ownPath(), ignored) ? "as it was left" : "";
}

/// What is in hand belongs to the questions no more.
void App::openOwn(bool justWentWrong) {
    if (justWentWrong) ownFile_.clear();
    if (!justWentWrong && !own_ && !ownWaits().empty()) takeUpOwn();
    if (justWentWrong || !own_) own_.emplace(justWentWrong);
    openFreeTable();
    inHand_ = 0;
    if (own_->stage() == OwnKnitting::Stage::asking) layOwn();
    ownOpen_ = true;
    controls_.goTo(Area::page);
}

void App::layOwn() {
    ownAll_ = false;
    const bool whole = own_->isDrawn();
    auto piece = whole          ? FreePiece::from(own_->meant())
                 : own_->part() ? FreePiece::from(own_->part()->recipe())
                                : tl::expected<FreePiece, std::string>(tl::unexpect, "");
    if (piece) {
        lay(TableTop(std::move(*piece)));
        tableName_ = whole ? "Your own knitting" : "A part of your own knitting";
        if (!whole) rowsBelowTable_ = own_->part()->rowsBelow();
        tablePath_.clear();
    } else if (whole) {
        notice(piece.error());
    } else {
        notice("Your piece is too large to be drawn here. The looks are asked for all the same.");
    }
    ownOpen_ = true;
    openPaper(Paper::work);
}

void App::pointOwn() {
    if (!ownIsAsking()) return;
    if (own_->waiting() == nullptr) {
        notice("Choose first what you see there, on the page.");
        return;
    }
    if (!pointed_ || !pointed_->entry) return;
    const auto pointed = own_->inPiece(StitchPlaces(table_->fabric()).of(pointed_->entry));
    if (!pointed) {
        notice(own_->part() ? "That stitch only holds the part together. Point at one beside it."
                            : "Your piece is not drawn. Say that you can't say where.");
        return;
    }
    const StitchPlace at = *pointed;
    // A row or a stitch beside what was asked about is meant to be in it.
    const CaseQuestion& question = *own_->asked().question();
    const auto into = [](int there, int from, int to) {
        const bool beside = to > 0 && (there == from - 1 || there == to + 1);
        return beside ? std::clamp(there, from, to) : there;
    };
    own_->pointAt(into(std::max(1, at.row), std::max(1, question.rowFrom), question.rowTo),
                  into(std::max(1, at.column), std::max(1, question.columnFrom), question.columnTo));
    ownAll_ = false;
    controls_.goTo(Area::page);
    keepOwn();
}

void App::performOwn(const Command& command) {
    switch (command.ask) {
        case Ask::wentWrong: openOwn(true); return;
        case Ask::ownKnitting: openOwn(false); return;
        default: break;
    }
    if (!own_) return;
    const bool asking = own_->stage() == OwnKnitting::Stage::asking;
    switch (command.ask) {
        case Ask::goOn:
            if (own_->stage() == OwnKnitting::Stage::size) {
                if (const auto trouble = own_->begin(settings_.mirrored)) {
                    notice(*trouble);
                    return;
                }
                layOtherAside();
                layOwn();
                controls_.goTo(Area::page);
            } else if (asking) {
                notice("Choose what you see, or say that you can't tell.");
            } else {
                own_->goOn();
            }
            break;
        case Ask::goBack:
            if (!own_->back()) openPaper(Paper::shelf);
            break;
        case Ask::choose:
            if (!asking) return;
            own_->choose(static_cast<std::size_t>(std::max(0, command.n)));
            // The next thing is done on the cloth.
            controls_.goTo(own_->waiting() != nullptr ? Area::cloth : Area::page);
            break;
        case Ask::ownGround:
            if (command.n >= 0) {
                own_->setGround(static_cast<CaseGround>(command.n));
            } else if (const FreePiece* piece = table_->piece()) {
                own_->setPattern(tableName_, instructionsOf(piece->recipe()), piece->recipe().stitches,
                                 piece->recipe().rows);
            }
            break;
        case Ask::ownPattern: {
            const auto bytes = readFile(command.words);
            if (!bytes) {
                notice("Not opened: " + bytes.error().message + ".");
                return;
            }
            Recipe recipe;
            recipe.pattern = *bytes;
            const std::vector<std::string> parts = parse(*bytes).parts;
            if (parts.size() > 1) {
                notice(fmt::format(
                    "This text tells {} pieces; the {} is taken. For another one open it on the free "
                    "table first.",
                    parts.size(), parts.front()));
            }
            own_->setPattern(std::filesystem::path(command.words).filename().string(), instructionsOf(recipe),
                             0, 0);
            openPaper(Paper::work);
            ownOpen_ = true;
            break;
        }
        case Ask::ownSize:
            if (std::abs(command.n) == 1) step(own_->stitches, command.n);
            if (std::abs(command.n) == 2) step(own_->rows, command.n / 2);
            break;
        case Ask::ownAll: ownAll_ = true; return;
        case Ask::ownNowhere: own_->nowhere(); break;
        case Ask::ownCannotTell:
            if (asking) own_->cantTell();
            break;
        case Ask::ownShow: {
            const auto n = static_cast<std::size_t>(std::max(0, command.n));
            if (!asking || n >= own_->explanations().size()) return;
            const CaseExplanation& found = own_->explanations()[n];
            const auto part = own_->isDrawn() ? std::nullopt : own_->partWith(found);
            if (!own_->isDrawn() && !part) {
                notice("That lies too deep in too large a piece to be laid on the table.");
                return;
            }
            const auto recipe = part ? std::optional<Recipe>(part->recipe()) : own_->as(found);
            auto piece =
                recipe ? FreePiece::from(*recipe)
                       : tl::expected<FreePiece, std::string>(tl::unexpect, "That cannot be knitted here.");
            if (!piece) {
                notice(part ? "That cannot be made in a part of so large a piece." : piece.error());
                return;
            }
            lay(TableTop(std::move(*piece)));
            if (part) {
                rowsBelowTable_ = part->rowsBelow();
                notice(fmt::format("This is a part of your piece, {}: its row 1 is your row {}.",
                                   part->words(Side::right), part->rowsBelow() + 1));
            }
            free_.ofOwn = true;
            free_.showPlans = true;
            openPaper(Paper::work);
            return;
        }
        case Ask::ownAgain:
            layOwn();
            controls_.goTo(Area::page);
            return;
        case Ask::ownAnew:
            if (!ownFile_.empty()) {
                // The file is laid away; what she left before waits.
                ownFile_.clear();
                own_.reset();
                openOwn(false);
                return;
            }
            own_.emplace(false);
            break;
        default: return;
    }
    ownAll_ = false;
    keepOwn();
}

void App::lightOwn(std::vector<ClothMark>& marks) const {
    if (!ownIsAsking() || !own_->asked().question()) return;
    const CaseQuestion& question = *own_->asked().question();
    if (question.rowTo <= 0) return;
    const StitchPlaces places(table_->fabric());
    std::vector<ClothMark> lit;
    for (const auto& row : places.rows()) {
        for (const LoopId loop : row) {
            const auto at = own_->inPiece(places.of(loop));
            if (at && isIn(*at, question.rowFrom, question.rowTo, question.columnFrom, question.columnTo))
                lit.push_back({loop, MarkKind::row});
        }
    }
    if (lit.size() <= kMostLit) marks.insert(marks.end(), lit.begin(), lit.end());
}

/// What is ruled out lies in the shade, what is still possible in a dashed frame.
void App::drawOwnPlace(ImDrawList& draw) const {
    if (!ownIsAsking() || !own_->isDrawn() || cloth_.shown().empty()) return;
    const CasePlace& place = own_->place();
    if (place.loops <= 0 || 10 * place.loops >= 9 * place.loopsInAll) return;
    const StitchPlaces places(table_->fabric());
    std::vector<DrawnPlace> corners;
    for (const auto& row : places.rows()) {
        for (const LoopId loop : row) {
            const StitchPlace at = places.of(loop);
            if (!isIn(at, place.rowFrom, place.rowTo, place.columnFrom, place.columnTo)) continue;
            const bool corner = at.row == place.rowFrom || at.row == place.rowTo ||
                                at.column == place.columnFrom || at.column == place.columnTo;
            if (!corner) continue;
            const auto drawn = cloth_.whereIs(loop);
            if (!drawn) continue;
            corners.push_back(*drawn);
        }
    }
    if (corners.empty()) return;
    // The last stitch reaches to its ball, and the frame goes round the stitches.
    std::vector<double> widths;
    widths.reserve(corners.size());
    for (const DrawnPlace& drawn : corners) widths.push_back(drawn.high.x - drawn.low.x);
    const auto middle = widths.begin() + static_cast<std::ptrdiff_t>(widths.size() / 2);
    std::nth_element(widths.begin(), middle, widths.end());
    ImVec2 low(1e9F, 1e9F);
    ImVec2 high(-1e9F, -1e9F);
    for (const DrawnPlace& drawn : corners) {
        const auto left = static_cast<float>(std::max(drawn.low.x, drawn.at.x - *middle));
        const auto right = static_cast<float>(std::min(drawn.high.x, drawn.at.x + *middle));
        low = ImVec2(std::min(low.x, left), std::min(low.y, static_cast<float>(drawn.low.y)));
        high = ImVec2(std::max(high.x, right), std::max(high.y, static_cast<float>(drawn.high.y)));
    }
    const Palette& colours = palette(settings_.dark);
    const Box box = cloth_.shown().front().box;
    const float pad = 6 * settings_.textSize;
    const ImVec2 from(std::clamp(low.x - pad, box.left, box.right),
                      std::clamp(low.y - pad, box.top, box.bottom));
    const ImVec2 to(std::clamp(high.x + pad, box.left, box.right),
                    std::clamp(high.y + pad, box.top, box.bottom));
    const Ink shade = (colours.table & 0x00FFFFFFU) | 0x88000000U;
    draw.PushClipRect(ImVec2(box.left, box.top), ImVec2(box.right, box.bottom));
    draw.AddRectFilled(ImVec2(box.left, box.top), ImVec2(box.right, from.y), shade);
    draw.AddRectFilled(ImVec2(box.left, to.y), ImVec2(box.right, box.bottom), shade);
    draw.AddRectFilled(ImVec2(box.left, from.y), ImVec2(from.x, to.y), shade);
    draw.AddRectFilled(ImVec2(to.x, from.y), ImVec2(box.right, to.y), shade);
    const float dash = 9 * settings_.textSize;
    for (float x = from.x; x < to.x; x += 2 * dash) {
        const float end = std::min(x + dash, to.x);
        draw.AddLine(ImVec2(x, from.y), ImVec2(end, from.y), colours.text, 2);
        draw.AddLine(ImVec2(x, to.y), ImVec2(end, to.y), colours.text, 2);
    }
    for (float y = from.y; y < to.y; y += 2 * dash) {
        const float end = std::min(y + dash, to.y);
        draw.AddLine(ImVec2(from.x, y), ImVec2(from.x, end), colours.text, 2);
        draw.AddLine(ImVec2(to.x, y), ImVec2(to.x, end), colours.text, 2);
    }
    draw.PopClipRect();
}

}  // namespace loopmend::app

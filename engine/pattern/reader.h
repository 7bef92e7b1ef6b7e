// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/lex.h"
#include "pattern/parse.h"

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loopmend {

/// The words for a plain knit and a plain purl stitch, old ones too.
bool bareKnit(std::string_view text);
bool barePurl(std::string_view text);
/// A stitch worked `times` times; a stitch whose operation carries `count`.
Item made(Op op, int times = 1);
Item counted(Op op, int count);

/// The workings of parse(): a cursor over the tokens and one member a rule of the language. Rules that may
/// fail return false and leave the cursor where it was. Not for use outside this folder.
class Reader {
  public:
    Reader(std::string_view text, const ParseOptions& options, Pattern& pattern);

    /// The whole text (parse.cpp).
    void read();

  private:
    // --- cursor (reader.cpp) ---
    const Token& peek(std::size_t ahead = 0) const;
    bool done() const { return at_ >= limit_; }
    bool is(std::string_view text, std::size_t ahead = 0) const { return peek(ahead).text == text; }
    bool isAny(std::initializer_list<std::string_view> texts, std::size_t ahead = 0) const;
    bool take(std::string_view text);
    bool takeAny(std::initializer_list<std::string_view> texts);
    bool takeSeq(std::initializer_list<std::string_view> texts);
    /// A number in digits or as a word; of `40 (44, 48)` the one of the chosen size.
    bool number(int& value);
    bool ordinal(int& value);
    bool numberAhead(std::size_t ahead = 0) const;
    bool stitchWord() { return takeAny({"sts", "st", "stitches", "stitch"}); }
    Place placeFrom(std::size_t firstToken) const;
    std::string wordsFrom(std::size_t firstToken) const;
    void problem(std::size_t firstToken, std::string message, std::vector<std::string> suggestions = {});
    /// The text of a word as written without blanks: `c4f` is three tokens.
    std::string_view cluster(std::size_t token, std::size_t& next) const;

    // --- statements (parse.cpp) ---
    struct Head {
        Row row;
        std::size_t body = 0;     ///< first token behind the head
        bool next = false;        ///< `Next row`
        bool unnumbered = false;  ///< `Row:`
        bool misspelt = false;    ///< `Rwo 3:`
        std::vector<std::pair<std::string, std::string>>
            complaints;  ///< message, suggestion; said when it is read
    };
    enum class What : std::uint8_t { row, repeat, bindOff, alias, remark };
    struct Statement {
        What what = What::remark;
        std::size_t begin = 0;
        std::size_t end = 0;
        Head head;
    };
    void split(std::vector<Statement>& statements);
    bool classify(std::size_t token, bool lineStart, bool inRow, Statement& statement);
    void rowStatement(Statement& statement);
    void repeatStatement(const Statement& statement);
    void remarkStatement(const Statement& statement);
    void aliasStatement(const Statement& statement);
    bool factsInRemark();
    bool aliasAhead();
    bool repeatAhead();
    bool bindOffAhead();

    // --- row heads (parse_head.cpp) ---
    bool headAt(std::size_t token, bool lineStart, Head& head);
    bool headNumbers(Head& head, bool ordinals);
    bool everyRows(Head& head);
    void headSide(Head& head);
    bool oneSide(std::optional<Facing>& facing);
    bool rowWord(bool& round);

    // --- rows (parse_row.cpp, parse_repeat.cpp) ---
    enum class Stop : std::uint8_t { row, bracket, star };
    void rowBody(Row& row);
    bool sameAs(Row& row);
    bool rowCount(Row& row);
    void items(std::vector<Item>& out, Stop stop, int stars);
    void oneItem(std::vector<Item>& out, Stop stop);
    void star(std::vector<Item>& out);
    void starExtent(Item& item, std::size_t start, bool closed, std::vector<Item>& out);
    bool repeatFromStar();
    void bracket(std::vector<Item>& out);
    void bracketTail(Item& item, std::size_t start, std::vector<Item>& out);
    void wholeRowRepeat(std::vector<Item>& out, Stop stop);
    void oneStitch(Item& group, std::size_t start, std::vector<Item>& out);
    void finishStitch(Item item, std::size_t start, std::vector<Item>& out);
    bool extent(Until& until, int& last);
    bool times(int& n, bool& more);
    bool follow(std::vector<Item>& out);
    bool marker(std::vector<Item>& out);
    void skipUnknown();
    void separators();
    bool openUntil(Item& item, std::size_t start, Until until, int last);

    // --- stitches (parse_stitch.cpp, parse_slip.cpp) ---
    /// One stitch of any kind; item.step, times and yarnSaid are set. True if words were taken, also bad
    /// ones.
    bool stitch(Item& item);
    bool knitOrPurl(Item& item, bool knitted);
    bool together(Item& item, bool knitted, int n);
    bool throughBack();
    bool slip(Item& item);
    bool slipManner(bool& knitwise, bool& yarnSaid, bool& yarnFront);
    bool slippedOver(Item& item, int slipped);
    bool passOverWords(int& passed);
    bool cableFromSlip(Item& item);
    bool yarnOver(Item& item);
    bool yarnMove(Item& item, std::size_t start);
    bool yarnBack(Item& item, std::size_t start);
    bool makeOne(Item& item);
    bool shortName(Item& item);
    bool cable(Item& item);
    bool crossCable(Item& item);
    bool castOrBind(Item& item);
    bool holder(Item& item);
    bool passOverItem(Item& item);

    // --- turns and edges (parse_turns.cpp) ---
    bool turnOrEdge(Item& item);
    bool turnWords(Item& item);
    bool workedAtTurn(Item& item);
    bool pickUpWords(Item& item);
    bool wordsAfterNumber(std::size_t token, std::initializer_list<std::string_view> words);
    bool castOrBindOtherwise(Item& item);
    void turnsInPlace(const Row& row);
    bool aliased(Item& item);

    // --- yarns, wraps, older loops (parse_yarns.cpp) ---
    bool namesYarn() const;
    bool yarnName(std::uint8_t& yarn);
    bool yarnWords();
    void yarnBehind(Item& item);
    bool wrapping(Item& item);
    bool fallen(Item& item);
    bool lifted(Item& item);
    bool brioche(Item& item);
    bool slippedWithYarnOver(Item& item, int n);

    const Tokens* tokens_ = nullptr;
    Tokens storage_;
    ParseOptions options_;
    Pattern& out_;
    std::size_t at_ = 0;
    std::size_t limit_ = 0;
    bool anyRow_ = false;            ///< while the text is cut up: a row head was seen
    int row_ = 0;                    ///< printed number of the row being read, for problems
    bool sound_ = true;              ///< the row being read is understood so far
    int depth_ = 0;                  ///< brackets and stars open
    bool bare_ = false;              ///< the last stitch read had no number
    bool pendingYarnFront_ = false;  ///< `yf` before a slip
    bool pendingYarnBack_ = false;
    std::uint8_t yarn_ = 0;  ///< what stitches are worked with, from row to row until another is named
    bool link_ = false;      ///< and first led round the one before
    int autoLast_ = -1;      ///< index of a top-level star that ends before the items behind it
    int sizes_ = 0;          ///< sizes of the first list of them
    std::vector<std::pair<std::string, Item>> aliases_;
};

}  // namespace loopmend

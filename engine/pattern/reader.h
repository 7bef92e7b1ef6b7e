// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/directive.h"
#include "pattern/lex.h"
#include "pattern/panels.h"
#include "pattern/parse.h"
#include "pattern/part_read.h"

#include <initializer_list>
#include <optional>
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
    Reader(std::string_view text, const ParseOptions& options, Pattern& pattern,
           const Panels* panels = nullptr);

    /// The whole text (parse.cpp); of a piece, with what is known of it already.
    void read(const Begun& begun = {});

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
    bool noneOfThisSize(std::size_t ahead) const;
    void sizesMet(std::size_t start, int count);
    bool numberAhead(std::size_t ahead = 0) const;
    bool stitchWord() { return takeAny({"sts", "st", "stitches", "stitch"}); }
    Place placeFrom(std::size_t firstToken) const;
    std::string wordsFrom(std::size_t firstToken) const;
    void problem(std::size_t firstToken, std::string message, std::vector<std::string> suggestions = {});
    /// Says which reading was taken, once for each kind.
    void understood(std::size_t firstToken, std::string_view kind, std::string message);
    /// Whether the text has UK words that US books do not have.
    bool ukWords() const;
    /// The text of a word as written without blanks: `c4f` is three tokens.
    std::string_view cluster(std::size_t token, std::size_t& next) const;

    // --- statements (parse.cpp) ---
    struct Head {
        Row row;
        std::size_t body = 0;     ///< first token behind the head
        bool next = false;        ///< `Next row`
        bool unnumbered = false;  ///< `Row:`
        bool misspelt = false;    ///< `Rwo 3:`
        int nextRows = 1;         ///< `Next 2 rows`
        std::string name;         ///< `Dec row`
        std::string label;        ///< the words before `row 1`, as in `Rib row 1`
        std::vector<std::pair<std::string, std::string>>
            complaints;  ///< message, suggestion; said when it is read
    };
    enum class What : std::uint8_t { row, repeat, bindOff, alias, remark, directive };
    struct Statement {
        What what = What::remark;
        std::size_t begin = 0;
        std::size_t end = 0;
        std::size_t directiveEnd = 0;  ///< the token behind a sentence that stands for rows
        Head head;
    };
    void split(std::vector<Statement>& statements);
    bool classify(std::size_t token, bool lineStart, bool inRow, Statement& statement);
    void rowStatement(Statement& statement);
    void beginGroup(std::size_t start);
    void numberInGroup(Row& row, bool counted, std::size_t start);
    void repeatStatement(const Statement& statement);
    void remarkStatement(const Statement& statement);
    void aliasStatement(const Statement& statement);
    bool factsInRemark();
    bool aliasAhead();
    bool repeatAhead();
    bool bindOffAhead();

    // --- sentences that stand for rows (parse_even.cpp, parse_shape.cpp, write_rows.cpp) ---
    /// Where the piece stands: the face that looks at her in the next row, and the stitches, if known.
    struct Standing {
        Facing side = Facing::right;
        bool round = false;
        std::optional<std::int64_t> stitches;
    };
    bool beginsLine(const Token& token) const;
    std::size_t sentenceEnd(std::size_t token) const;
    static bool isAnyOf(std::string_view text, std::initializer_list<std::string_view> texts);
    bool lowerCase(const Token& token) const;
    bool directiveAt(std::size_t token, Directive& directive, bool looksOnly = true);
    bool beginsWith(Directive& directive);
    bool evenWords(Directive& directive);
    bool stitchName(NamedGround& ground);
    bool inPattern();
    bool lengthWords(Directive& directive);
    bool shapeWords(Directive& directive);
    bool progressWords(Directive& directive);
    bool clockWords(Clock& clock, Directive& directive);
    bool rowClock(Clock& clock);
    bool placeWords(Clock& clock, Directive& directive);
    bool beatWords(Clock& clock, Directive& directive);
    bool oneBeat(Beat& beat);
    int namedRow(std::string_view name) const;
    int lastNumber() const;
    int lastWorked();
    std::optional<bool> sideOfNeck() const;
    std::optional<bool> edgeAtRight(std::string_view name) const;
    void settleEvery(std::optional<Facing> next = std::nullopt);
    Standing standing() const;
    static Standing standingAfter(const Pattern& pattern);
    void assume(std::size_t start);
    std::optional<NamedGround> groundOf(const RowSpan& span) const;
    bool groundItems(const NamedGround& ground, int worked, const Standing& now, int last, bool whole,
                     std::vector<Item>& out) const;
    void patternNotSaid(std::size_t start);
    bool evenRow(const Standing& now, Row& row);
    std::optional<std::vector<Step>> establishedRow(const Standing& now, int stitches) const;
    bool beginShapedPattern(const Standing& now, std::size_t start);
    bool establishedPart(const Standing& now, int first, int last, std::vector<Item>& out) const;
    void append(Row row, std::size_t firstOfSentence, std::size_t start);
    void workDirective(const Statement& statement);
    void workEven(const Directive& directive, std::size_t start);
    void workProgress(const Directive& directive, std::size_t start);
    void workShape(const Directive& given, std::size_t start);
    static bool edgeItems(const Clock& clock, bool atStart, bool knitted, std::vector<Item>& out);
    void tooManyRows(std::size_t start);
    int rowsSinceShaping() const;
    std::int64_t changeOf(const Clock& clock, const Standing& now) const;
    std::vector<int> strikes(Clock& clock, const Directive& directive, const Standing& now,
                             std::size_t start);
    bool groundBody(Row& row, std::size_t start);
    bool leaning(std::vector<Item>& out);
    // part_worked.cpp
    bool patternPart(std::size_t start, std::optional<int> n, int last, std::vector<Item>& out);
    void partWorked(const Row& row);
    bool panel(std::vector<Item>& out);
    bool untilCount(RepeatRows& repeat, std::size_t start);
    bool patternAgain(int* times);
    bool nameAgain(RepeatRows* repeat);
    void countOfRepeats(RepeatRows& repeat, std::size_t start);
    void goOnWith(const RepeatRows& repeat);

    // --- row heads (parse_head.cpp) ---
    bool rowNameAhead() const;
    std::string rowName() const;
    std::size_t wordsBeforeRow() const;
    void labelAhead(Head& head);
    bool longName(Head& head);
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
    /// `Inc 1 st at each end`: shaping told as the next row.
    bool shapedBody(const Row& head, std::size_t start);
    // evenly.cpp
    bool evenlyWords(Evenly& evenly);
    bool evenlyRow(const Evenly& evenly, const Standing& now, std::size_t start, Row& row);
    void workEvenly(const Evenly& evenly, std::optional<int> count, std::size_t start);
    bool evenlyBody(const Row& head, std::size_t start);
    void repeatThenEvenly(RepeatRows repeat, const Evenly& evenly, std::optional<int> count,
                          std::size_t start);
    bool bothStrandsAsOne();
    /// `dec'd`, `inc'd`, `fewer`: -1, +1; 0: no such word.
    int changeWord();
    /// What is printed of it, against what it does.
    void checkSaidChange(const Row& row);
    void items(std::vector<Item>& out, Stop stop, int stars);
    void oneItem(std::vector<Item>& out, Stop stop);
    void star(std::vector<Item>& out);
    void starExtent(Item& item, std::size_t start, bool closed, std::vector<Item>& out);
    bool repeatFromStar();
    bool partialMark(int stars) const;
    bool lastRepeat(Item& item, std::size_t start, std::vector<Item>& out);
    void bracket(std::vector<Item>& out);
    void bracketTail(Item& item, std::size_t start, std::vector<Item>& out);
    void wholeRowRepeat(std::vector<Item>& out, Stop stop);
    void oneStitch(Item& group, std::size_t start, std::vector<Item>& out);
    bool isRibSoFar(const std::vector<Item>& before, const Item& last) const;
    void finishStitch(Item item, std::size_t start, std::vector<Item>& out);
    bool extent(Until& until, int& last);
    bool times(int& n, bool& more);
    bool follow(std::vector<Item>& out);
    bool mannerOfMarkers();
    bool mannerOfTurns();
    void closeTurns(Row& row);
    bool endWords();
    bool marker(std::vector<Item>& out);
    bool decreaseUnsaid(Item& item);
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
    /// Into front and back leg in turn: so many loops; 0: no such words.
    int legsInTurn();
    bool whichStitch();
    bool passOverItem(Item& item);

    // --- turns and edges (parse_turns.cpp) ---
    bool turnOrEdge(Item& item);
    bool turnWords(Item& item);
    bool workedAtTurn(Item& item);
    bool pickUpWords(Item& item);
    bool wordsAfterNumber(std::size_t token, std::initializer_list<std::string_view> words);
    bool castOrBindOtherwise(Item& item);
    void turnsInPlace(const Row& row);
    void leftOut(std::size_t start, std::size_t end);
    void castOnBehindTurn(Row& row);
    bool someOnly(std::size_t start, std::size_t end);
    void onSome(Row& row);
    void toAndFro(Row& row, std::size_t first);
    bool aliased(Item& item);

    // --- yarns, wraps, older loops (parse_yarns.cpp) ---
    char colorWord() const;
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
    const Panels* panels_ = nullptr;
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
    int mark_ = -1;          ///< items of the innermost star up to the mark at which its last repeat ends
    /// `2 sts dec'd` at the end of a row: how many more, and where it stands.
    std::optional<std::pair<int, std::size_t>> saidChange_;
    int autoLast_ = -1;               ///< index of a top-level star that ends before the items behind it
    int offset_ = 0;                  ///< rows counted before the group of rows that is read
    int groupRow_ = 0;                ///< the largest number printed in that group
    bool mixed_ = false;              ///< the text has rounds
    std::optional<Facing> flatSide_;  ///< of the row before, where rows are worked to and fro among rounds
    std::optional<std::size_t> flatTurn_;  ///< the last of those to which a turn was added
    /// Behind how many items a part of the pattern was worked, and whether from the right edge on.
    std::optional<std::pair<std::size_t, bool>> partAt_;
    Begun begun_;
    std::optional<Clock> lastClock_;  ///< the shaping told last
    bool wrapsToo_ = false;           ///< wraps are worked with their stitches in the row that is read
    int castOnNext_ = 0;              ///< cast on behind a turn: the next row begins with them
    int only_ = 0;            ///< of the stitches so many are worked on alone, from the next row; 0: all
    bool onlyLater_ = false;  ///< from the next but one
    std::optional<int> alternate_;  ///< `Next row and every alt row`: its number
    bool unnumbered_ = false;       ///< the row before has no printed number
    std::string label_;             ///< of the row before: `Rib`
    std::string heading_;           ///< the remark read last, since the last row
    int sizes_ = 0;                 ///< sizes of the first list of them
    bool sized_ = false;            ///< the number read last was one of such a list
    std::vector<std::pair<std::string, Item>> aliases_;
    Established established_;
    std::vector<std::pair<std::string, int>> names_;  ///< rows by their names, `dec`: by number
    std::vector<std::string> said_;                   ///< kinds of `understood` that were told
    std::size_t furthest_ = 0;        ///< behind a sentence that is looked at: where the text ends
    std::optional<Facing> headSide_;  ///< of the row being read, if its head says
    bool lastBeatCounted_ = false;    ///< the beat read last said how often
};

}  // namespace loopmend

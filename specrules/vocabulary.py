"""The words that a sheet, a pack, a screen and a record share: each kind of thing in one table, in its order.

What a new word of a kind means is told by the code that gives it meaning; all else reads these tables.
"""

from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple


class Decided(StrEnum):
    """What a verdict says of the part."""

    INSIDE = "inside its limits"
    BEYOND = "beyond a limit"
    OPEN = "not decided"
    NOTHING = "not asked"


class Verdict(StrEnum):
    """What an inspection says of one check at one station, in the order in which they are counted.

    `statement` is the statement of conformity of the non-binary rule (ILAC-G8:09/2019, clause 4.2.3), "" where the
    verdict makes none.
    """

    decided: Decided
    statement: str

    def __new__(cls, word: str, decided: Decided, statement: str = "") -> "Verdict":
        made = str.__new__(cls, word)
        made._value_ = word
        made.decided = decided
        made.statement = statement
        return made

    __hash__ = str.__hash__  # an enumeration's own hash is many times as slow

    IN_SPEC = "in spec", Decided.INSIDE, "pass"
    WORN = "worn within limit", Decided.INSIDE, "pass"
    JUST_IN = "just in", Decided.INSIDE, "conditional pass"
    JUST_OUT = "just out", Decided.BEYOND, "conditional fail"
    OUT = "out of spec", Decided.BEYOND, "fail"
    NOT_PROVEN = "not proven", Decided.OPEN
    NOT_MEASURED = "not measured", Decided.OPEN
    NO_FIGURE = "no figure", Decided.OPEN
    NOT_APPLICABLE = "not applicable", Decided.NOTHING


VERDICTS = tuple(verdict.value for verdict in Verdict)
INSIDE = tuple(verdict for verdict in Verdict if verdict.decided is Decided.INSIDE)
BEYOND = tuple(verdict for verdict in Verdict if verdict.decided is Decided.BEYOND)
OPEN = tuple(verdict for verdict in Verdict if verdict.decided is Decided.OPEN)

IMPORTANCES = ("critical", "major", "minor")
"""Classes of nonconformity as sampling inspection has them, the gravest first."""

SIDES = ("least", "most")
"""The limits of a tolerance."""
WORN = {side: f"wear {side}" for side in SIDES}
"""The part that decides in a side's place when wear counts."""
SIDE_OF = {part: side for side in SIDES for part in (side, WORN[side])}
"""The side that a part limits: all parts that judge, in their order, and so without the aim."""
LIMIT_PARTS = ("least", "aim", "most", *WORN.values())
"""What a limit line may set."""


class DecisionRule(NamedTuple):
    """How far inside a limit a value has to be, as a share of U; or how probable it has to be that it conforms.

    With a guard of its own the probability is asked for besides, where there are two limits.
    """

    name: str
    guard: Decimal = Decimal(1)
    probability: float | None = None
    by_probability: bool = False  # the probability decides, wherever there is one
    about: str = ""  # in words, "" where its name says it

    @property
    def simple(self) -> bool:
        """Gauges count for nothing."""
        return self.name == "simple"


DECISION_RULES = {
    rule.name: rule
    for rule in (
        DecisionRule("simple", about="simple acceptance: on a limit is in spec, gauges count for nothing"),
        DecisionRule("guarded", about="guarded by U (k = 2): in or out is said only where U leaves no doubt"),
        DecisionRule("iso-14253-1", Decimal("0.825"), probability=0.95),
        DecisionRule("conformance-95", probability=0.95, by_probability=True),
        DecisionRule("conformance-99", probability=0.99, by_probability=True),
    )
}
"""The decision rules by name.

simple: on a limit is in spec (ILAC-G8:09/2019, 4.2.1). guarded: the guard band is U (4.2.3). iso-14253-1: the default
of ISO 14253-1:2017, 1.65 u on each side, for conformity and for nonconformity alike (from memory); where two limits lie
so close that the value may be outside both, the probability of conformity is at least 95 % besides. conformance-P: the
probability of conformity has to be at least P (JCGM 106:2012, clause 7).
"""
USUAL_DECISION = "guarded"
"""The decision rule where neither sheet nor pack asks for another."""

READING_KEYS = ("value", "repeats", "gauge", "taken", "after", "because", "confirmed", "pictures", "was")
"""What a mapping that is one reading may have. None of these words can be a label: it would be read as the reading."""

FACT_KINDS = ("count", "number", "quantity", "choice", "yes/no", "groups", "labels", "text")
REUSED, MACHINED = "reused", "machined"
PART_STATES = ("new", REUSED, MACHINED)
"""What a sheet may say of a part. Wear limits are for reused ones; a machined part has to be as good as a new one."""
READING_STATES = ("as found", MACHINED, "as built")
"""In which state of the part a set of readings was taken, in the order of the work."""
SOURCE_KINDS = ("published", "maker", "house", "common practice", "from memory")


class Why(StrEnum):
    """The codes of reasons: why a value, a limit or a verdict is what it is. `output` has a sentence for each.

    Behind each code: what `names`, `labels` and `text` of its reason are.
    """

    __hash__ = str.__hash__

    # what keeps a finding from being decided
    STATE_FACT = "fact not stated"  # names: the fact
    READ = "not read"  # names: the measurand; labels: the station
    READ_EVERY_POSITION = "one figure hides the scatter"
    READ_FOR_ONE_WAY = "readings enough for one way"
    ROW_NOT_SURE = "which row of a table is not sure"  # names: the tables
    SIZE_ACROSS_EDGE = "size across an edge"  # names: the size that may lie on either side of what figures hold for
    # why there is no figure to judge by
    ASK_THE_MAKER = "limits from the maker"  # text: the pack's words, "" for none
    LIMITS_CROSS = "limits cross"
    MARGIN_TAKES_ALL = "margin leaves nothing"  # names: the packs
    DRAWN_IN = "limits drawn in"  # names: the pack; text: by how much
    NO_LIMIT_LINE = "no limit line counts"  # names: what the lines ask for; labels: what each is here
    LIMIT_WITHOUT_VALUE = "limit without a value"  # names: the code of the trouble, then its names
    HOLDS_FOR_OTHERS = "figures hold for others"  # names: the pack, by what; labels: what each is here; text: its title
    HOLDS_FOR_OTHER_SIZES = "figures hold for other sizes"  # likewise; labels: this size, their least, most, the unit
    # what stands beside a verdict
    PACK_NOTE = "note of a pack"  # text: the pack's words
    SIDE_DROPPED = "side dropped by the sheet"  # names: the side
    AIM_OUTSIDE = "aim outside the limits"
    WEAR_INSIDE_NEW = "wear limit inside the limit of new work"  # names: the side
    NO_LIMITS_WANTED = "no limits by the sheet"
    WITHOUT_VALUE = "without a value"  # names: the code of the trouble, then its names; text: its words
    WAYS_DISAGREE = "ways disagree"  # names: the other way; labels: which of the two is the less sure, this or that
    PACKS_DISAGREE = "packs disagree"  # names: the packs; labels: what each says
    GAUGE_BARRED = "gauge must not decide"  # names: the gauge class
    SAME_IN_ALL_WORLDS = "the same whatever a fact may be"  # names: the facts; labels: "no worse" in its place
    WORN_ONLY = "inside the wear limit only"
    # what a verdict rests on
    ASSUMED = "fact assumed"  # names: the fact; text: its value
    STALE_READING = "reading overtaken by work"  # names: the measurand, the operation
    STALE_FACT = "fact overtaken by work"  # names: the fact, the operation
    # what makes a figure look like a slip: the kinds of suspect
    IMPOSSIBLE_NEGATIVE = "impossible negative"  # names: none where it is so itself; else as of an impossible fit
    GAUGE_STEP = "off by a step of its gauge"  # names: the step; labels: how far off, the unit, which side, would be
    DECIMAL_SLIP = "decimal slip"  # names: held against; labels: how many times, large or small, would be
    UNIT_SLIP = "unit slip"  # names: held against, a `WrittenAs`; labels: as of a decimal slip
    DIGITS_EXCHANGED = "digits exchanged"  # labels: the two digits, would be
    LARGER_THAN_NEW = "larger than new"  # names: the fact that states the size when new; labels: that size
    SMALLER_THAN_NEW = "smaller than new"  # likewise
    UNUSUAL = "outside the usual sizes"  # labels: least ("" for none), most, the unit, what each known slip would make
    TOO_FEW_PLACES = "too few places"
    IMPOSSIBLE_FIT = "impossible fit"  # names: the rule, what explains it; labels: would be, then `WITHIN` if so
    # what else there is to say of a sheet
    ZERO_TOO_FAR_OFF = "zero beyond the permissible error"  # names: the gauge
    CHECK_TOO_LONG_AGO = "check too long ago"  # names: the gauge; labels: the day, how many days it would hold
    TEMPERATURE_ASSUMED = "temperature assumed"  # labels: the temperature, the range either way, the unit
    PAST_DUE = "gauge past its due date"  # names: the gauge; labels: that day, the day of the readings
    NO_BLADE = "no blade of its set"  # names: the measurand, its gauge, "assumed" for a class; labels: the figure
    FINER_THAN_READ = "finer than its gauge reads"  # likewise, then the step with its unit
    CONFIRMED = "confirmed"  # names: the measurand or fact; labels: by whom, the figure, then where
    ALL_ALIKE = "the same at every station"  # names: the measurands; labels: of each the kind of station, the figure
    UNIT_TAKEN = "unit taken from the sheet"  # names: measurands, facts; labels: the unit taken, that of their packs
    # the sources of error behind a value
    READING = "reading"  # names: the measurand; labels: the station and the position
    CALIBRATION = "calibration"  # names: the gauge; labels: "assumed" where it is a class that nobody named
    SCALE = "scale"  # likewise
    SETTING = "setting"  # names: the gauge, what it was set with
    SELECTION = "selection of an extreme"
    TEMPERATURE = "temperature"  # names: of what, the part or the gauge; labels: "assumed" where nobody stated it
    STATED = "stated figure"  # names: the fact; labels: the station
    ASSUMPTION = "assumed figure"  # names: the fact
    # what would decide a verdict that is in doubt
    READ_MORE_OFTEN = "read more often"  # names: the measurands; labels: how many times at each place
    READ_WITH = "read with another gauge"  # names: the measurand, the gauge class
    READ_BETWEEN = "read with finer blades"  # names as those before; labels: two blades that it may lie between, unit
    SET_WITH = "set with another gauge"  # names: the measurand, the gauge class that its gauge is set with
    # why a formula has no value
    DIVIDES_BY_ZERO = "divides by zero"
    ROOT_OF_NEGATIVE = "root of a negative value"
    ROOT_OF_ZERO = "root of zero"
    TOO_LARGE = "too large"
    OUTSIDE_DOMAIN = "outside a function's domain"  # names: the function; text: its words, "" for none
    NOT_FINITE = "no finite value"  # names: the function
    NO_ROW = "no row in a table"  # names: the table, the key; text: what the key is


class Relaxed(StrEnum):
    """The codes of the ledger: by what a pack asks less than those below it, or the sheet than its packs. `output` has
    words for each."""

    __hash__ = str.__hash__

    RETIRED = "retired"
    SWITCHED_OFF = "judged less often"
    LIMIT_WIDENED = "limit widened"
    MAKERS_LIMITS = "judged without the maker's limits"
    HOLDS_FOR_MORE = "figures said to hold for more"
    NEEDS_LESS = "needs less"
    LESS_GRAVE = "importance lowered"
    LATER = "waited for later"
    FEWER_READINGS = "fewer readings asked for"
    OTHER_GAUGES = "read by other gauges"
    SURER_GAUGE = "gauge said to be surer"
    LESS_DOUBTED = "figures less doubted"
    ASSUMED_MORE = "assumed without being stated"
    MORE_WAYS = "one more way to a figure"
    OTHERWISE = "asked or worked out otherwise"
    STALE_LESS = "work makes less stale"
    WORN_MORE = "wear limits count more often"
    LAXER_DECISION = "laxer decision rule"
    SAME_NAME = "pack of the same name"
    LEFT_OUT = "left out of the scope"


class Code(StrEnum):
    """The kinds of fault, each with what it means."""

    meaning: str

    def __new__(cls, word: str, meaning: str) -> "Code":
        made = str.__new__(cls, word)
        made._value_ = word
        made.meaning = meaning
        return made

    __hash__ = str.__hash__

    # files
    UNREADABLE = "unreadable", "a file or folder that is not there or cannot be read"
    NOT_UTF_8 = "not-utf-8", "bytes that are no text in UTF-8"
    EMPTY_FILE = "empty-file", "a file with nothing in it"
    FILE_TOO_LARGE = "file-too-large", "more bytes, keys or levels than a file may have"
    TOO_MANY_FAULTS = "too-many-faults", "more faults than are told; the rest are left out"
    WRONG_FILE = "wrong-file", "a file of another kind than is wanted, or that does not say its kind"
    # the text of a file
    UNWANTED_CHARACTER = "unwanted-character", "a character that does not belong in a file, or in a formula"
    NOT_YAML = "not-yaml", "a line that cannot be read as YAML"
    YAML_FEATURE = (
        "yaml-feature",
        "a part of YAML that is not taken: anchor, alias, tag, merge key, directive, document",
    )
    NOT_A_KEY = "not-a-key", "a key that is missing, or is itself a list or mapping"
    COLON_WITHOUT_SPACE = "colon-without-space", "a colon with no space after it"
    COLON_MISSING = "colon-missing", "a line that is neither a key with its colon nor part of a value"
    NOT_QUOTED = "not-quoted", "a text that has to stand in quotes"
    AFTER_QUOTE = "after-quote", "a text that goes on after its closing quote"
    WRONG_ESCAPE = "wrong-escape", "a backslash that means nothing in double quotes"
    UNPAIRED = "unpaired", "a bracket or quote without its partner"
    WRONG_INDENTATION = "wrong-indentation", "a line that is indented unlike those that it belongs to"
    READ_AS_COMMENT = "read-as-comment", "a text that YAML takes for a comment"
    TEXT_BELOW = "text-below", "a sign that starts a text on the lines below"
    WRONG_LIST = "wrong-list", "a list that is not written as one"
    COMMA_MISPLACED = "comma-misplaced", "a comma too many or too few in brackets"
    # the shape of a file
    UNKNOWN_KEY = "unknown-key", "a key that is none where it stands"
    MISSING_KEY = "missing-key", "a key, or a thing, that has to be there"
    KEYS_DISAGREE = "keys-disagree", "keys of one thing that do not go together"
    NO_VALUE = "no-value", "nothing where a value belongs"
    NOT_A_CHOICE = "not-a-choice", "none of the words that may stand there"
    NOT_A_NAME = "not-a-name", "a text that cannot be a name"
    WRONG_SHAPE = "wrong-shape", "a text, list or mapping where another of them belongs"
    TOO_LONG = "too-long", "a text, number or formula longer or deeper than it may be"
    TOO_MANY = "too-many", "more things than there may be"
    # names
    UNKNOWN_NAME = "unknown-name", "a name that nothing has"
    WRONG_SECTION = "wrong-section", "a name that belongs under another section"
    DEFINED_TWICE = "defined-twice", "a thing that stands there already"
    NAME_TAKEN = "name-taken", "a name that something else has"
    CIRCULAR = "circular", "things that depend on themselves"
    ABSENT = "absent", "something written about what a fact says is not there"
    CONTRADICTION = "contradiction", "two statements that have to agree and differ"
    # numbers
    NOT_A_NUMBER = "not-a-number", "a text that is no number of the kind that is wanted"
    NOT_WHOLE = "not-whole", "no whole number in the range that is wanted"
    MISWRITTEN_NUMBER = "miswritten-number", "a number with a damaged or unusual digit, point, sign, space or exponent"
    COMMA_IN_NUMBER = "comma-in-number", "a number with a comma"
    SEVERAL_NUMBERS = "several-numbers", "several numbers where one belongs"
    WORDS_WITH_NUMBER = "words-with-number", "a number with words or a note beside it"
    APPROXIMATE = "approximate", "a number that is said to be approximate"
    AMBIGUOUS = "ambiguous", "a text that can be read in two ways"
    NOT_A_READING = "not-a-reading", "a thread, or a size with a tolerance, where a reading belongs"
    RANGE_IN_WORDS = "range-in-words", "a range, or a side of a size, in other words than are taken"
    WRONG_RANGE = "wrong-range", "a range whose ends do not make one"
    NOT_A_RANGE = "not-a-range", "something else where a range belongs"
    NOT_ONE_FIGURE = "not-one-figure", "a range, or repeats, where one figure belongs"
    WRONG_UNCERTAINTY = "wrong-uncertainty", "an uncertainty that cannot be taken"
    SIZE_TWICE = "size-twice", "a size written twice that does not agree with itself"
    NOT_A_DATE = "not-a-date", "a text that is no day, year first"
    # units
    UNIT_MISSING = "unit-missing", "a quantity without its unit"
    UNIT_UNSAID = "unit-unsaid", "a sheet that does not state its unit of lengths"
    UNKNOWN_UNIT = "unknown-unit", "a unit that there is not"
    AMBIGUOUS_UNIT = "ambiguous-unit", "a unit that may mean several"
    WRONG_UNIT = "wrong-unit", "a unit of another kind of quantity"
    # formulas
    FORMULA_SYNTAX = "formula-syntax", "a formula that does not follow the language"
    WRONG_KIND = "wrong-kind", "a quantity, condition, choice or text where another of them is needed"
    WRONG_DIMENSION = "wrong-dimension", "quantities of kinds that do not go together"
    WRONG_ARGUMENTS = "wrong-arguments", "a function with too few or too many arguments"
    TEMPERATURE_ARITHMETIC = "temperature-arithmetic", "what has no meaning for temperatures, only for differences"
    DIVIDES_BY_ZERO = "divides-by-zero", "a division by 0"
    WRONG_EXPONENT = "wrong-exponent", "an exponent that cannot be taken"
    CONDITION_ON_MEASURED = "condition-on-measured", "a condition that reads a measured value"
    NOT_ONE_VALUE = "not-one-value", "what differs along an axis where one value is needed"
    # stations
    WRONG_AXIS = "wrong-axis", "an axis that the thing does not lie along"
    UNKNOWN_LABEL = "unknown-label", "a label that is none of its axis"
    STATION_NOT_NAMED = "station-not-named", "a figure that does not say of which station it is"
    WRONG_COUNT = "wrong-count", "more or fewer figures than belong there"
    MISPLACED = "misplaced", "a key or figure that stands where it has no place"
    GROUPS_NOT_STATED = "groups-not-stated", "groups that have to be stated"
    NOT_GROUPED = "not-grouped", "a label in no group, or in two"
    OUT_OF_ORDER = "out-of-order", "things whose order is wrong: sets of readings in time, blades by size"
    # packs
    WRONG_VERSION = "wrong-version", "a pack of another version than is built on"
    PACKS_DISAGREE = "packs-disagree", "packs that say different things, with none to settle it"
    AMENDS_NOTHING = "amends-nothing", "an amendment of what no pack below has"
    WRONG_AMENDMENT = "wrong-amendment", "an amendment of what cannot be amended there"
    NO_NEW_READINGS = "no-new-readings", "an exercise of which no new readings can be drawn"
    # plugins, and the program itself
    PLUGIN_FAILED = "plugin-failed", "a plugin that ended in an error"
    PLUGIN_TWICE = "plugin-twice", "a plugin that is installed twice"
    WRONG_OFFER = "wrong-offer", "a plugin that offers what cannot be taken"
    PROGRAM_FAILED = "program-failed", "a sheet on which the program itself failed"


ONCE = frozenset({Code.UNIT_UNSAID})
"""Slips of a whole file, told of at the first place that shows them."""


class WrittenAs(StrEnum):
    """What a figure seems to be written as, where one unit taken for another explains it."""

    __hash__ = str.__hash__

    MILLIMETRES = "millimetres among inches"
    INCHES = "inches among millimetres"
    THOU = "thou or um without their unit"
    SIZE = "a size with thou or um put by mistake"
    OTHER_SYSTEM = "the other system of units"


PAIR = "pair exchanged"
"""What explains a fit that cannot be: what was read of one part is written for the other."""

WITHIN = "within the limits"
"""Said of what a fit that cannot be would be with its slip undone, where it then lies within its limits."""

SUSPECT_KINDS = (
    Why.IMPOSSIBLE_NEGATIVE,
    Why.GAUGE_STEP,
    Why.DECIMAL_SLIP,
    Why.UNIT_SLIP,
    Why.DIGITS_EXCHANGED,
    Why.LARGER_THAN_NEW,
    Why.SMALLER_THAN_NEW,
    Why.UNUSUAL,
    Why.TOO_FEW_PLACES,
    Why.IMPOSSIBLE_FIT,
)
"""The kinds of suspect, the most particular first."""

MAKERS = (
    Why.ASK_THE_MAKER,
    Why.LIMITS_CROSS,
    Why.MARGIN_TAKES_ALL,
    Why.LIMIT_WITHOUT_VALUE,
    Why.HOLDS_FOR_OTHERS,
    Why.HOLDS_FOR_OTHER_SIZES,
    Why.NO_LIMIT_LINE,
    Why.NO_ROW,
)
"""What only the maker's own figure settles."""


class Reason(NamedTuple):
    """Why something is what it is: a code, the names and labels that it is about, and words of a pack or a sheet."""

    code: Why
    names: tuple[str, ...] = ()
    labels: tuple[str, ...] = ()
    text: str = ""

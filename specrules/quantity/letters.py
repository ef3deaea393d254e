"""Characters that look or mean alike on the bench, folded to one."""

_ALIKE = str.maketrans(
    {
        **dict.fromkeys("\u00b5\u03bc", "u"),  # micro sign, Greek mu
        **dict.fromkeys("\u2212\u2013\u2010\u2011", "-"),  # true minus, en dash, hyphens
        **dict.fromkeys("\u201c\u201d\u2033", '"'),
        **dict.fromkeys("\u2018\u2019\u2032", "'"),
        **dict.fromkeys("\u00a0\u2007\u2009\u202f", " "),
        "\u00ba": "\u00b0",  # the ordinal sign stands in for the degree sign on many keyboards
        "\u2044": "/",
    }
)
_FRACTIONS = str.maketrans(
    {
        "\u00bc": " 1/4",
        "\u00bd": " 1/2",
        "\u00be": " 3/4",
        "\u215b": " 1/8",
        "\u215c": " 3/8",
        "\u215d": " 5/8",
        "\u215e": " 7/8",
    }
)


def fold(text: str) -> str:
    """The text with look-alikes folded, one-character fractions written out, and no blanks around it."""
    return str(text).strip() if text.isascii() else text.translate(_ALIKE).translate(_FRACTIONS).strip()

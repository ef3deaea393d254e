"""A page as PDF, by WeasyPrint, which only the extra `pdf` installs.

It is the same page, and bears no mark, so that only `--replace` replaces one.
"""

from __future__ import annotations


class NoPdf(Exception):
    """What makes a PDF is not there. The text is a sentence without its full stop."""


INSTALL = "a PDF takes what is not installed: pip install 'specrules[pdf]', or print the HTML from a browser"


def pdf_of(page: str) -> bytes:
    """The page as PDF. It loads nothing but what stands in it. Raises NoPdf where WeasyPrint, or Pango that it sets
    text with, is not there."""
    try:
        from weasyprint import HTML
        from weasyprint.urls import URLFetcher
    except (ImportError, OSError) as error:
        raise NoPdf(INSTALL) from error
    pictures_in_the_page = URLFetcher(allowed_protocols=("data",))
    made: bytes = HTML(string=page, url_fetcher=pictures_in_the_page).write_pdf()
    return made

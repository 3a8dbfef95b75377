from __future__ import annotations

import datetime as dt

from vanwater.answers.core.dates import dated, day_in_either


def test_a_day_in_words_is_taken_for_no_other() -> None:
    day = dt.date(2026, 3, 4)
    assert (dated(day), dated(day, us=True)) == ("4 March 2026", "March 4, 2026")
    assert [day_in_either(day).text(us) for us in (False, True)] == [dated(day), dated(day, us=True)]

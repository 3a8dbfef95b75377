from __future__ import annotations

from vanwater.panels.history import PAUSE, History, State


class Clock:
    now = 0.0

    def __call__(self) -> float:
        return self.now


def people(count: int) -> State:
    return State("", {"household.people": count})


def test_a_drag_is_one_step_and_a_pause_makes_another() -> None:
    clock = Clock()
    history = History(clock)
    for count in (3, 2, 1):
        history.push(people(count), "household.people")
        clock.now += 0.1
    history.undo()
    assert history.state == State()
    history.redo()
    assert history.state == people(1)
    clock.now += PAUSE
    history.push(people(5), "household.people")
    history.undo()
    assert history.state == people(1)


def test_another_control_is_another_step() -> None:
    history = History(Clock())
    history.push(people(3), "household.people")
    both = State("", {"household.people": 3, "site.wind": 1.0})
    history.push(both, "site.wind")
    history.undo()
    assert history.state == people(3)
    history.undo()
    assert (history.state, history.can_undo) == (State(), False)
    history.undo()
    assert history.state == State()
    history.redo()
    history.redo()
    assert (history.state, history.can_redo) == (both, False)


def test_what_was_taken_back_goes_when_something_else_is_done() -> None:
    history = History(Clock())
    history.push(people(3), "household.people")
    history.undo()
    history.push(State("ski week"), "")
    assert not history.can_redo
    history.undo()
    assert history.state == State()


def test_what_is_dragged_back_is_no_step() -> None:
    history = History(Clock())
    history.push(people(3), "household.people")
    history.push(State(), "household.people")
    assert not history.can_undo


def test_after_a_step_back_the_next_move_is_a_step_of_its_own() -> None:
    history = History(Clock())
    history.push(people(3), "household.people")
    history.push(State("", {"site.wind": 1.0}), "site.wind")
    history.undo()
    history.push(people(2), "household.people")
    history.undo()
    assert history.state == people(3)


def test_states_are_told_apart_by_what_is_set() -> None:
    assert people(3).key == State("", {"household.people": 3}).key
    assert len({people(3).key, people(4).key, State("ski week").key, State("", {"household.people": None}).key}) == 4

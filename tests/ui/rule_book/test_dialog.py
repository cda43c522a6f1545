"""The rule book on show: houses beside each other, changes tried, kept, taken out, accepted."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QWidget

from loadbench.errors import SaveError
from loadbench.findings.finding import Level
from loadbench.findings.rulebook import program_rules
from loadbench.findings.shop import load_shop
from loadbench.job.edits import replaced
from loadbench.job.model import Job, RuleChange
from loadbench.units import Style
from ui.rule_book import houses
from ui.rule_book.dialog import RuleBookDialog
from ui.rule_book.houses import House
from ui.session import Session

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

    from ui.rule_book.limit_card import LimitCard

JOB = Job.model_validate(
    {
        "title": "invented",
        "units": "inch-pound",
        "spring": {
            "installed_height": "1.900 in",
            "bind_height": "1.100 in",
            "readings": ({"height": "1.9 in", "load": "150 lbf"}, {"height": "1.3 in", "load": "402 lbf"}),
        },
        "valve_gear": {"rocker_ratio": 1.6, "measured_net_lift": "0.700 in", "retainer_to_seal": "0.780 in"},
        "follower": {
            "family": "roller-hydraulic",
            "travel": "short",
            "axle": "needle",
            "maker_limits": {"open_load_max": "620 lbf"},
        },
    }
)


@pytest.fixture
def book(qtbot: QtBot) -> Iterator[RuleBookDialog]:
    made = RuleBookDialog(Session(JOB, shop={}))
    qtbot.addWidget(made)
    made.show_rule("retainer-margin-min")
    made.show()
    return made


def field(book: RuleBookDialog, name: str) -> QLineEdit:
    assert book.view is not None
    found = book.view.findChild(QLineEdit, name)
    assert isinstance(found, QLineEdit)
    return found


def typed(qtbot: QtBot, edit: QLineEdit, text: str, *, enter: bool = True) -> None:
    edit.setFocus()
    edit.selectAll()
    qtbot.keyClicks(edit, text)
    if enter:
        qtbot.keyClick(edit, Qt.Key.Key_Return)


def card(book: RuleBookDialog) -> LimitCard:
    assert book.view is not None
    return book.view.cards[0]


def level_of(book: RuleBookDialog, rule: str) -> Level:
    return next(each.level for each in book.session.state.verdicts.findings if each.id == rule)


def effects_text(book: RuleBookDialog) -> str:
    assert book.view is not None
    return book.view.effects.text()


def test_every_rule_is_in_the_book(book: RuleBookDialog) -> None:
    assert list(book._items) == list(program_rules())
    for rule in program_rules():
        book.show_rule(rule)
        assert book.view is not None
        assert book.view.rule.id == rule
        assert len(book.view.cards) == len(program_rules()[rule].limits)
    book.show_rule("no-such-rule")
    assert book.view is not None


def test_typing_a_shop_limit_tells_what_it_would_move_and_changes_nothing(book: RuleBookDialog, qtbot: QtBot) -> None:
    assert level_of(book, "retainer-margin-min") is Level.CLEAR
    typed(qtbot, field(book, "shop_usual_watch"), "0.1", enter=False)
    assert "This would move" in effects_text(book)
    assert "Clear \u2192 Watch" in effects_text(book)
    assert book.session.shop == {}
    assert level_of(book, "retainer-margin-min") is Level.CLEAR
    qtbot.keyClick(field(book, "shop_usual_watch"), Qt.Key.Key_Escape)
    assert field(book, "shop_usual_watch").text() == ""
    assert "would move" not in effects_text(book)


def test_a_shop_limit_is_kept_saved_and_marked_as_a_house_value(book: RuleBookDialog, qtbot: QtBot) -> None:
    typed(qtbot, field(book, "shop_usual_watch"), "0.1")
    assert level_of(book, "retainer-margin-min") is Level.WATCH
    assert load_shop()["retainer-margin-min"].watch == "0.1 in"
    assert "house value of this shop" in card(book)._forced["watch"].text()
    assert "This moved" in effects_text(book)
    assert book._items["retainer-margin-min"].text(1) == "shop"
    assert book.session.undo_stack.count() == 0
    assert book.view is not None
    book.view.resets[House.SHOP].click()
    assert load_shop() == {}
    assert level_of(book, "retainer-margin-min") is Level.CLEAR


def test_a_job_limit_with_its_reason_is_undone(book: RuleBookDialog, qtbot: QtBot) -> None:
    typed(qtbot, field(book, "job_usual_watch"), "3 mm")
    typed(qtbot, field(book, "job_usual_why"), "a soft seal")
    change = book.session.job.rules["retainer-margin-min"]
    assert (change.watch, change.why) == ("3 mm", "a soft seal")
    assert level_of(book, "retainer-margin-min") is Level.WATCH
    assert load_shop() == {}
    book.session.undo_stack.undo()
    book.session.undo_stack.undo()
    assert book.session.job == JOB
    assert field(book, "job_usual_watch").text() == ""


def test_d31_a_wrong_limit_is_told_beside_it_and_kept(book: RuleBookDialog, qtbot: QtBot) -> None:
    typed(qtbot, field(book, "job_usual_stop"), "5 lbf")
    assert book.session.job.rules["retainer-margin-min"].stop == "5 lbf"
    message = card(book)._messages[House.JOB]
    assert message.isVisible()
    assert message.text.text().startswith("Wrong:")
    assert card(book)._forced["stop"].text().startswith("0.030")


def test_watch_and_stop_keep_their_order(book: RuleBookDialog, qtbot: QtBot) -> None:
    typed(qtbot, field(book, "shop_usual_stop"), "0.090 in")
    assert "order" in card(book)._messages[House.SHOP].text.text()
    assert card(book)._forced["stop"].text().startswith("0.030")


def test_a_limit_below_zero_is_refused_in_words(book: RuleBookDialog, qtbot: QtBot) -> None:
    typed(qtbot, field(book, "shop_usual_stop"), "-1 in", enter=False)
    assert "below zero" in card(book)._messages[House.SHOP].text.text()


def test_a_share_is_typed_in_percent(book: RuleBookDialog, qtbot: QtBot) -> None:
    book.show_rule("lift-agreement")
    typed(qtbot, field(book, "shop_usual_watch"), "3")
    assert load_shop()["lift-agreement"].watch == "3 %"
    assert card(book)._forced["watch"].text().startswith("3.0")


def test_the_part_makers_looser_limit_is_accepted_with_initials(book: RuleBookDialog) -> None:
    book.show_rule("short-travel-max")
    shown = card(book)
    assert shown._forced["stop"].text().startswith("575")
    assert shown._maker.text().startswith("620")
    assert shown.accept_button.isVisible()
    assert not shown.accept_button.isEnabled()
    shown.initials.setText("AB")
    shown.accept_button.click()
    change = book.session.job.rules["short-travel-max"]
    assert (change.stop, change.why) == ("620 lbf", "maker\u2019s limit accepted by AB")
    assert not shown.accept_button.isVisible()
    assert level_of(book, "rule-loosened") is Level.WATCH


def test_the_part_makers_stricter_limit_governs_at_once(book: RuleBookDialog) -> None:
    book.session.set_field("follower.maker_limits.open_load_max", "450 lbf")
    book.show_rule("short-travel-max")
    assert "part maker" in card(book)._forced["stop"].text()
    assert card(book)._forced["stop"].text().startswith("450")
    assert not card(book).accept_button.isVisible()


def test_of_alternatives_the_one_in_force_stands_first(book: RuleBookDialog) -> None:
    book.show_rule("seat-load-min")
    assert book.view is not None
    assert [each.name for each in book.view.cards if each.speaks] == ["roller-hydraulic-short"]
    assert book.view.cards[0].speaks
    book.session.set_field("follower.travel", "standard")
    assert book.view.cards[0].name == "roller-hydraulic-standard"


def test_d32_a_shop_file_that_cannot_be_saved_is_told_in_the_book(
    book: RuleBookDialog, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_args: object) -> None:
        raise SaveError("shop-rules.json cannot be saved: No space left on device.")

    monkeypatch.setattr(houses, "save_shop", full)
    typed(qtbot, field(book, "shop_usual_watch"), "0.1")
    assert "No space left" in book.refused.text()
    assert book.session.shop == {}


def test_the_values_follow_the_units_on_show(book: RuleBookDialog) -> None:
    assert "in" in card(book)._told["watch"].text()
    book.session.set_style(Style.METRIC)
    assert card(book)._told["watch"].text().endswith("mm")


def test_a_limit_shared_by_a_plain_change_of_the_job_is_shown(book: RuleBookDialog) -> None:
    book.session.edit("x", lambda job: replaced(job, "rules", {"seat-load-min": {"watch": "130 lbf"}}))
    book.show_rule("seat-load-min")
    assert field(book, "job_roller-hydraulic-short_watch").text() == "130 lbf"
    assert field(book, "job_flat-solid_watch").text() == ""


def test_a_fault_of_a_plain_change_stands_at_the_row_in_force_alone(book: RuleBookDialog) -> None:
    wrong = {"bind-margin-min": RuleChange(watch="0.010 in", stop="0.040 in")}
    book.session.edit("x", lambda job: job.model_copy(update={"rules": wrong}))
    book.show_rule("bind-margin-min")
    assert book.view is not None
    told = {card.name: card._messages[House.JOB].text.text() for card in book.view.cards}
    assert "order" in told["usual"]
    assert told["bucket"] == ""


def test_d26_everything_that_takes_the_focus_has_a_name(book: RuleBookDialog) -> None:
    for rule in ("solid-lash", "short-travel-max"):
        book.show_rule(rule)
        children = [
            child
            for child in book.findChildren(QWidget)
            if child.isVisible() and child.focusPolicy() & Qt.FocusPolicy.TabFocus
        ]
        nameless = [child for child in children if not (child.accessibleName() or child.property("text"))]
        assert [
            type(child).__name__ for child in nameless if type(child).__name__ not in ("QScrollArea", "QSplitter")
        ] == []


def test_another_book_may_be_opened_after_the_first_is_gone(book: RuleBookDialog, qtbot: QtBot) -> None:
    book.close()
    session = book.session
    other = RuleBookDialog(session)
    qtbot.addWidget(other)
    session.set_field("spring.bind_height", "1.110 in")
    session.set_style(Style.METRIC)

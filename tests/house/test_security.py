"""What guards people's answers: each rule with the tests that hold it."""

import ast

import pytest

from tests.house.paths import ROOT

RULES: dict[str, tuple[str, ...]] = {
    "the token is in nothing that is written, whatever goes wrong": (
        "tests/bot/test_logs.py::test_http_clients_are_kept_quiet",
        "tests/bot/test_logs.py::test_the_token_is_left_out_of_every_value",
        "tests/bot/test_logs.py::test_a_failed_call_does_not_show_the_token",
        "tests/bot/test_main.py::test_a_setting_that_is_wrong_is_named_and_the_token_is_not",
        "tests/bot/test_main.py::test_at_a_wrong_address_it_waits_and_tells_no_token",
        "tests/campaigns/test_what_is_written.py"
        "::test_on_a_bad_line_and_at_a_bad_end_nothing_that_is_left_holds_the_token",
    ),
    "names, ratings and what people write are not logged": (
        "tests/bot/test_logs.py::test_of_an_exception_only_its_kinds_and_places_are_told",
        "tests/journeys/test_operator.py"
        "::test_nothing_that_is_written_names_anybody_or_what_they_said",
        "tests/pictures/test_drawer.py::test_what_cannot_be_drawn_is_told_without_what_it_says",
    ),
    "who draws pictures is told no secret, and does not outlive us": (
        "tests/pictures/test_drawer.py::test_it_is_not_told_our_settings",
        "tests/pictures/test_drawer.py::test_it_ends_when_we_are_killed",
    ),
    "what a button carries is looked up, and gives nobody any right": (
        "tests/bot/test_buttons.py::test_what_no_button_wrote_is_not_read",
        "tests/bot/test_buttons.py::test_no_button_carries_a_rating_beyond_the_scale",
        "tests/journeys/test_forged_buttons.py::test_no_button_works_for_anybody_else",
        "tests/journeys/test_forged_buttons.py"
        "::test_a_refusal_does_not_tell_whether_there_is_such_a_thing",
        "tests/journeys/test_refusals.py::test_no_button_made_of_any_ids_does_or_tells_anything",
        "tests/campaigns/test_fuzz.py"
        "::test_whatever_others_send_or_press_breaks_tells_and_changes_nothing",
    ),
    "old buttons are answered politely": (
        "tests/journeys/test_prompt.py"
        "::test_an_answer_may_be_corrected_until_the_next_class_starts",
        "tests/exploration/test_every_button.py"
        "::test_every_press_in_every_order_is_answered_and_leads_on",
    ),
    "every command and query starts from who asks": (
        "tests/journeys/test_refusals.py::test_no_command_tells_a_stranger_anything",
        "tests/journeys/test_commands.py::test_members_get_nothing_that_is_for_instructors",
        "tests/journeys/test_commands.py::test_commands_in_a_group_chat_say_nothing_personal",
        "tests/journeys/test_forged_buttons.py"
        "::test_members_of_another_group_and_its_instructor_get_no_further",
    ),
    "names are tidied, cut at 64 characters and escaped": (
        "tests/core/test_names.py::test_a_tidied_name_is_readable_or_empty",
        "tests/journeys/test_commands.py::test_a_strange_name_looks_right_everywhere",
        "tests/core/test_names.py::test_what_can_not_be_shown_plainly_is_not_a_name",
        "tests/journeys/test_nameless.py"
        "::test_whoever_has_no_name_is_answered_and_joins_under_a_mark",
    ),
    "codes can't be guessed, are stored as hashes, end, and all wrong ones are alike": (
        "tests/bot/test_luck.py::test_a_code_has_128_random_bits_and_only_its_hash_is_kept",
        "tests/journeys/test_joining.py::test_the_code_itself_is_not_in_the_database",
        "tests/journeys/test_joining.py::test_every_dead_link_gets_the_answer_of_a_wrong_one",
        "tests/journeys/test_claiming.py"
        "::test_after_five_wrong_codes_even_the_right_one_is_refused_for_an_hour",
        "tests/journeys/test_leading.py::test_guessing_codes_ends_also_for_links_to_lead",
    ),
    "files from the chat are small, bounded and from who may send them": (
        "tests/delivery/test_transport.py::test_a_file_is_taken_up_to_its_limit",
        "tests/journeys/test_plan_files.py"
        "::test_a_file_that_says_it_is_small_and_is_not_is_refused",
        "tests/journeys/test_plan_files.py::test_a_file_from_a_member_is_not_even_fetched",
        "tests/journeys/test_plan_files.py"
        "::test_a_timetable_that_would_never_end_to_be_worked_out_is_refused",
        "tests/timetable/test_hostile_calendars.py"
        "::test_each_is_refused_for_its_reason_and_quickly",
        "tests/campaigns/test_fuzz.py::test_every_torn_file_is_refused_for_a_reason_or_taken",
    ),
    "no address in a file is ever fetched": (
        "tests/timetable/test_addresses.py::test_reading_a_file_opens_no_connection",
    ),
    "no cell of a CSV is run by a spreadsheet": (
        "tests/bot/test_reportsfile_writing.py::test_whatever_begins_a_formula_gets_an_apostrophe",
        "tests/journeys/test_export.py"
        "::test_no_cell_is_run_by_a_spreadsheet_and_equal_names_stay_apart",
    ),
    "a flood of one person keeps nobody waiting": (
        "tests/delivery/test_flood.py::test_the_rest_is_acknowledged_unread_and_others_are_heard",
        "tests/storage/test_floods.py::test_everybody_has_an_allowance_of_their_own",
    ),
    "files are for their owner alone": (
        "tests/storage/test_database.py::test_file_and_log_are_private",
        "tests/storage/test_backup.py::test_a_backup_while_writing_has_whole_transactions",
        "tests/storage/test_lock.py::test_a_second_process_is_refused_until_the_first_is_gone",
        "tests/bot/test_check.py::test_what_others_may_read_is_told_with_what_to_do",
    ),
    "an answer that isn't the chat service's changes nothing": (
        "tests/delivery/test_failure.py"
        "::test_what_the_chat_api_did_not_say_tells_nothing_of_token_chat_or_message",
        "tests/delivery/test_shape.py::test_what_is_not_is_not",
    ),
    "SQL takes values as parameters alone": ("pyproject.toml::S608",),
}


@pytest.mark.parametrize("rule", RULES)
def test_each_rule_is_held_by_tests_that_there_are(rule: str) -> None:
    for place in RULES[rule]:
        path, _, name = place.partition("::")
        text = (ROOT / path).read_text()
        if not path.endswith(".py"):
            assert name in text, place
        elif name:
            kinds = (ast.FunctionDef, ast.AsyncFunctionDef)
            tests = {each.name for each in ast.parse(text).body if isinstance(each, kinds)}
            assert name in tests, place

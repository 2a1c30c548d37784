"""What each act of the role table means, in words that the owner reads."""

from shop.domain.roles import Act

ACT_WORDS: dict[str, str] = {
    "see_shop": "See work orders, bikes and parts",
    "see_customers": "See customers, their paper and links",
    "keep_customers": "Enter and correct customers; pass bikes on",
    "keep_bikes": "Enter and correct bikes",
    "book_in": "Book in work",
    "edit_work_order": "Write on a work order",
    "estimate": "Estimate the cost",
    "record_approval": "Record what the customer agreed to",
    "work_on_bench": "Start, hold and finish work on the bench",
    "do_final_check": "Do the final check",
    "hand_over": "Hand the bike over",
    "call_off": "Call a work order off",
    "plan_tasks": "Plan the tasks of a work order",
    "keep_holds": "Say what a work order waits for, and that it waits no more",
    "keep_templates": "Keep the templates of tasks and check lists",
    "book_labour": "Book their own hours",
    "book_labour_for_others": "Book hours for anybody",
    "keep_parts_list": "Keep the parts list",
    "book_parts": "Book parts on a work order",
    "keep_tags": "Tag parts taken off, shelve them and say what becomes of them",
    "keep_suppliers": "Keep the list of suppliers",
    "arrange_outside_work": "Send work out and take it back",
    "keep_attachments": "Add photos, take them away",
    "find_faults": "Hunt faults: test, record, repair",
    "keep_loom_library": "Keep the drawings of looms",
    "request_paper": "Have paper made",
    "share_with_customer": "Send a customer their private link",
    "plan_work": "Plan the weeks and promise days",
    "keep_working_hours": "Keep working hours and absences",
    "keep_people": "Open and close accounts; see where people are signed in",
    "keep_shop_settings": "Change the shop's settings and rules",
}


def act_words(act: Act) -> str:
    """Return what the act means; its bare name where nobody has said it better."""
    return ACT_WORDS.get(act.value) or act.value.replace("_", " ").capitalize()

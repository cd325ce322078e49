"""Every sentence the checker, the page and the answer sheet say, in one catalogue: change or
translate them here only.

Placeholders are filled by say(). Sentences about one problem (its text, hints, slips) stand in the
problem's own record.
"""

# The four states of a problem, by their key in code and sheet.
STATES = {
    "not_attempted": "not attempted",
    "right": "right",
    "right_rounded": "right within hand-calculation rounding",
    "wrong": "wrong",
}

CATALOGUE = {
    # --- reading an answer ------------------------------------------------------------------------
    "read.none": (
        "Nothing was entered. Type a number, with or without its unit, for example {example}."
    ),
    "read.long": (
        "{length} characters were entered; a number with its unit needs fewer than {limit}."
    ),
    "read.word": "{text} holds no number that can be read. Type figures, for example {example}.",
    "read.sum": (
        "{text} is a sum still to be worked out. Work it out and type the result, for "
        "example {example}."
    ),
    "read.two": (
        "{text} reads as more than one number. Type one number; separate thousands by "
        "nothing or by one space, as in 12 500."
    ),
    "read.range": (
        "{text} is larger or smaller than any number needed here. Numbers between "
        "1e-30 and 1e30 can be read."
    ),
    "read.unit": "{unit} is not a unit known here. {wanted}",
    "read.unit_wanted": "Units that fit: {units}.",
    "read.unit_none": "The answer is a plain number, without a unit.",
    "read.none_chosen": "Nothing was chosen. Choose one of the lines, 1 to {count}.",
    "read.choice": "{text} is none of the choices. Type the number of one of them, 1 to {count}.",
    "read.choice_number": (
        "The choice and the number are both needed, separated by a semicolon, "
        "for example {example}."
    ),
    "read.as": "{text} was read as {number}.",
    "read.not_counted": "This was not counted as an attempt.",
    # --- verdicts ---------------------------------------------------------------------------------
    "verdict.right": "Right.",
    "verdict.right_rounded": (
        "Right within hand-calculation rounding: carried without rounding it is {answer}."
    ),
    "verdict.wrong": "Not yet.",
    "wrong.unit_missing": (
        "{number} would be right in {found}, but without a unit it is taken as "
        "{wanted}. Write the unit beside the number, or convert it."
    ),
    "wrong.unit_other": "The number would be right in {found}; you wrote {given}.",
    "wrong.unit_normal": (
        "The number would be right in {found}, gas at 0 °C and 101.325 kPa; you "
        "wrote {given}, gas as hot as it happens to be."
    ),
    "wrong.quantity": "{given} measures {measures}; asked is {asked}.",
    "wrong.impossible": "Nothing can have so many {given}.",
    "wrong.sign": "The size is right, the sign is not.",
    "wrong.decimal": (
        "The figures are right, the decimal point is not: check powers of ten and "
        "prefixes such as k and M."
    ),
    "wrong.two_slips": "More than one mistake would lead to this number; look which one you made.",
    "wrong.sign_unknown": "The sign is not the expected one.",
    "wrong.high": "Too high; the order of magnitude is right.",
    "wrong.low": "Too low; the order of magnitude is right.",
    "wrong.high_orders": "Too high by about {orders}.",
    "wrong.low_orders": "Too low by about {orders}.",
    "wrong.above": "Too high.",
    "wrong.below": "Too low.",
    "wrong.number_right": "The number beside it is right, though.",
    "wrong.choice_right": "The choice is right, the number is not.",
    "unit.none": "a plain number",
    "unit.asked": "{quantity}, for example in {unit}",
    "unit.fraction": "a fraction of one",
    "order.one": "one order of magnitude",
    "order.many": "{count} orders of magnitude",
    # --- a chain of entries -----------------------------------------------------------------------
    "chain.on": "Carry on with this",
    "chain.sign_off": "Write my sign-off page",
    "chain.again": "Another {called}",
    "chain.stuck": "The {called} can't go on with this: {reason}",
    "chain.carried": "{title}: the {called} goes on with {text}.",
    "chain.right_here": "Right for the {called} as it stood: {answer}.",
    "chain.lesson": "Lesson {lesson} has this calculation.",
    "chain.so_far": "Entered so far",
    "chain.new": (
        "A new {called}, with numbers of its own. The last one stays in your answer sheet."
    ),
    "chain.signed_off": "Written: {path}. Open it in the browser and print it.",
    "chain.progress": "{done} of {total} entries made, {right} right.",
    "chain.debrief": "Your {called}, looked back on",
    # --- the page ---------------------------------------------------------------------------------
    "page.intro": (
        "Your numbers are drawn from your name, the problem and the course key: they "
        "stay the same whenever you come back."
    ),
    "page.name": "Your name",
    "page.course": "Course key",
    "page.begin": "Begin",
    "page.name_needed": "Type your name first: your numbers are drawn from it.",
    "page.name_long": "The name has {length} characters; allowed is up to {limit}.",
    "page.course_hint": "Your trainer gives the course key; on your own, leave {default}.",
    "page.signed": "Working as {learner}, course key {course}.",
    "page.change": "Another name",
    "page.progress": "{solved} of {total} problems solved, {tried} tried.",
    "page.all_done": "All problems of this exercise are solved.",
    "page.state": "State: {state}.",
    "page.attempts": "{count} attempts so far.",
    "page.attempt_one": "1 attempt so far.",
    "page.set": "set {set}",
    "page.answer": "Your answer",
    "page.answer_in": "Your answer in {unit}",
    "page.answer_plain": "Your answer, a plain number",
    "page.choice": "Your choice",
    "page.unit_line": "Asked in {unit}; other units are converted if you write them.",
    "page.unit_none": "Asked is a plain number.",
    "page.tolerance": "Accepted within {tolerance}: {why}",
    "page.check": "Check",
    "page.hint": "Hint",
    "page.hint_n": "Hint {n} of {of}",
    "page.hints_over": "There are no more hints; the worked solution shows every step.",
    "page.worked": "Worked solution",
    "page.worked_confirm": (
        "The worked solution shows the answer with your numbers. This set then "
        "no longer counts; another set of numbers is ready for you."
    ),
    "page.worked_confirm_same": (
        "The worked solution shows the answer. This problem has no numbers "
        "to draw, so it then no longer counts as solved by you."
    ),
    "page.worked_yes": "Show it",
    "page.worked_no": "Not yet",
    "page.worked_closed": (
        "The worked solution of this set is open, so answers to it no longer "
        "count. Take another set."
    ),
    "page.worked_closed_same": "The worked solution is open, so answers no longer count.",
    "page.another": "Another set",
    "page.another_closed": (
        "Another set comes after this one is solved or its worked solution was opened."
    ),
    "page.caution": "Caution",
    "page.entered": "You entered {text}.",
    "page.last": "Your last answer: {text}",
    "page.error": (
        "Something went wrong in the kit, not in your answer: {error}. What you entered "
        "so far is kept. Please show this to your trainer."
    ),
    "predict.ask": "Predict first, then move the sliders.",
    "predict.keep": "Keep my prediction",
    "predict.lock": "Predict first: answer the question above, then the sliders unlock.",
    "predict.needed": "Choose or type your prediction first.",
    "predict.kept": "Your prediction: {text}. Now try it on the panel.",
    "predict.unsaved": "It is not kept in an answer sheet, because no name is known here yet.",
    "predict.off": (
        "Your trainer has switched the question before the panel off; you may still answer it."
    ),
    # --- the answer sheet -------------------------------------------------------------------------
    "sheet.unsaved": "Your answer was checked but could not be saved: {reason}",
    "sheet.unsaved_entry": "Your entry could not be saved: {reason}",
    "sheet.unsaved_step": "This could not be saved in your answer sheet: {reason}",
    "sheet.large": "{file} has {size} MB; an answer sheet has at most {limit} MB.",
    "sheet.lines": "{file} has {count} lines; an answer sheet has at most {limit}.",
    "sheet.full": (
        "Your answer sheet {file} has reached {limit} MB and takes no more. Nothing is "
        "lost; ask your trainer."
    ),
    "sheet.newer": (
        "{file} was written by a newer kit (schema {schema}; this one reads up to "
        "{known}). Update the kit; nothing in the file was changed."
    ),
    "sheet.other": (
        "{file} belongs to {owner}, not to {learner}. Move it to another folder; "
        "nothing in it was changed."
    ),
    "sheet.empty": "the file is empty",
    "sheet.no_header": "no readable first line that names learner and course",
    "sheet.unreadable": "{file} cannot be read: {reason}",
    "sheet.folder": "{folder} cannot be written ({reason}). Open the kit in a folder of your own.",
    "sheet.no_room": (
        "there is no room left on the disk of {folder}. Free some room, then press "
        "the button again: what waits is saved with it."
    ),
    "sheet.encoding": (
        "{file} was saved as UTF-16 by another program; save it again as UTF-8, or "
        "take the file that the kit wrote."
    ),
    "sheet.damaged": (
        "Part of your answer sheet was damaged ({count} unreadable lines). A copy is "
        "kept as {copy}; everything readable was read."
    ),
    "sheet.damaged.one": (
        "Part of your answer sheet was damaged (1 unreadable line). A copy is "
        "kept as {copy}; everything readable was read."
    ),
    "line.long": "longer than {limit} bytes",
    "line.json": "not a record this kit writes",
    "line.field": "{field} holds {value}",
    # --- marking ----------------------------------------------------------------------------------
    "mark.no_folder": "folder of sheets: {folder} was given; it is not a folder that can be read.",
    "mark.no_sheets": "folder of sheets: {folder} holds no answer sheet (*.jsonl).",
    "mark.read": "{done} of {total} sheets read",
    "mark.done": "{done} of {total} sheets marked",
    "mark.written": "Written: {files}",
    "mark.unsealed": (
        "{count} lines whose seal does not fit: changed after they were written; not counted"
    ),
    "mark.unsealed.one": (
        "1 line whose seal does not fit: changed after it was written; not counted"
    ),
    "mark.missing": "{count} lines were taken out",
    "mark.missing.one": "1 line was taken out",
    "mark.repeated": "{count} lines stand there twice; counted once",
    "mark.repeated.one": "1 line stands there twice; counted once",
    "mark.bad": "{count} unreadable lines left out",
    "mark.bad.one": "1 unreadable line left out",
    "mark.torn": "the last line is torn (a crash or a cut file)",
    "mark.old": "{count} answers of schema 0, written before there were seals",
    "mark.old.one": "1 answer of schema 0, written before there were seals",
    "mark.data": "made with other data of the kit ({stamps}); marked with the present data",
    "mark.otherwise": "{count} answers were judged otherwise when they were given",
    "mark.otherwise.one": "1 answer was judged otherwise when it was given",
    "mark.given": (
        "{count} answers to other numbers than those drawn here (another works profile "
        "or version, or an override is missing)"
    ),
    "mark.given.one": (
        "1 answer to other numbers than those drawn here (another works profile or "
        "version, or an override is missing)"
    ),
    "mark.course": "course key {key}, not {wanted}",
    "mark.unknown": "{count} records of problems this version does not have",
    "mark.unknown.one": "1 record of a problem this version does not have",
    "mark.sets": "more than {limit} sets of one problem; the others were not marked",
    "mark.draw": "{problem}: no numbers could be drawn",
    "mark.same_name": "another sheet by the same name: {files}",
    "mark.copy": "an identical copy of {file}",
    "mark.chain_stopped": (
        "the {called} sheet can be followed for {count} of its entries only: {reason}"
    ),
    "mark.chain_none": "no {called} could be drawn for the {called} sheet: {reason}",
    "mark.others": (
        "{count} sheets of another course key are listed below and left out of the class's figures."
    ),
    "mark.others.one": (
        "1 sheet of another course key is listed below and left out of the class's figures."
    ),
    "mark.mixed": (
        "Sheets of several course keys ({keys}) are counted together; --course KEY marks "
        "one course."
    ),
    "mark.course_used": "Course settings: {file}{overrides}.",
    "mark.works_used": "Numbers drawn with the works profile of {name} ({file}).",
    "mark.key_replaced": (
        "Course key {key} as you gave it; {file} says {found}. Its other settings are used."
    ),
    "key.pages": (
        "The problem sheets come to about {pages} pages. Print a lesson at a time "
        "(--lesson 02), or let the learners work on the page."
    ),
    "key.namesakes": (
        "{names}: the same name gives the same numbers and one file name. Let one of "
        "them add an initial, in the list and on the page."
    ),
    "key.no_draw": "No numbers could be drawn for this problem. Ask your trainer.",
    "key.chain": (
        "Exercise {number} has no key: what is right in its {called} sheet follows from the "
        "entries before. `{command} mark` works them all out anew."
    ),
    "key.no_names": "list of names: {file} {reason}.",
    # --- course settings --------------------------------------------------------------------------
    "course.toml": "{file}: {reason}",
    "course.key": "{file}: {key} is not a setting; settings are {known}.",
    "course.type": "{file}: {key} is {value}; {wanted} is needed.",
    "course.override": (
        "{file}: override {number} must name learner, problem and at least one "
        "quantity with a number."
    ),
    "course.no_file": (
        "course: {path} was given, and there is no such file. A course key holds no "
        "/ and does not end in .toml."
    ),
    "course.faults": "{file}: {count} faults in its overrides:",
    "course.faults.one": "{file}: 1 fault in its overrides:",
    "course.problem": "override {number}: there is no problem {problem}; {near}",
    "course.quantity": "override {number}: {problem} has no quantity {quantity}; it has {names}",
    "course.value": "override {number}: {problem}, {quantity} = {value} was given; {wanted}",
    "course.set": "override {number}: set = {value} was given; sets are 1, 2, 3 and so on",
    "course.draw": "override {number}: {problem} makes no problem with it: {reason}",
}


def say(key, /, **values):
    """The sentence of that key with its placeholders filled; for a count of 1 the sentence
    <key>.one, where there is one.

    Raises KeyError for an unknown key: a fault of the kit, not of a learner.
    """
    one = f"{key}.one"
    return CATALOGUE[one if values.get("count") == 1 and one in CATALOGUE else key].format(**values)

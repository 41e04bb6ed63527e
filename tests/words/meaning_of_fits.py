"""What the sentences of a fit mean, by hand beside the catalogue; see `meaning`.

Each tuple is as of `meaning.means`.
"""

CHECKS = {
    "readings_agree": (
        "<", "The readings hold together", "contradict",
        "Reading {part} contradicts", "the readings {part} contradicts",
        "Read the volts across {load} as well",
    ),
    "load_voltage": (
        ">", "to spare", "short",
        "{value} at least reach", "{value} at most reach", "reach {part} in {case}",
        "needs {limit}", "{apart} to spare", "{apart} short", "What {part} needs",
        "only {value} reach", "What reaches {part} follows",
    ),
}  # fmt: skip
REASONS = {
    "told": "{part}: between {low} and {high}, 19 times of 20.",
    "not_told": "leave it anywhere between {low} and {high}",
    "together": "cannot be told apart; together they are {sum}, between {low} and {high}",
    "apart": "cannot be told apart by these readings",
    "between": "red lead at {red}, black at {black}",
    "through": "clamp round the lead of {part}",
    "of": "ohms of {part} by itself",
    "set_aside": "of less than {least} an ohmmeter and its leads tell nothing",
    "next_volts": "read volts in {case}, the red lead at {red} and the black one at {black}",
    "next_amperes": "read amperes in {case}, the clamp round the insulated lead of {part}",
    "beyond": "{part} is {low} to {high}, and {least} to {most} were given",
    "stays_live": "With {part} off {volts} were read in {case} where nothing should be",
    "mend_live": "Mend that first, and read again",
    "open_part": "{part} is open: {volts} stand across it in {case}",
    "open_part_if": "If all of them are right, {part} is open: {volts} stand across it in {case}",
    "stays_out": "{part} does not close its contact in {case}, though {volts} reach its coil",
    "stays_in": "{part} stays closed in {case}, though its coil has {volts} only",
    "or_another": "It may as well be {part}: read the volts across each",
    "mend_open": "Mend that first, and read again: behind an open part no reading tells more",
    "again": "First take the readings that contradict again",
    "nothing_more": "No single reading more is worth taking",
}
PHRASES = (
    "{load} gets between {decisive.low_v} and {decisive.high_v}, 19 times of 20, in "
    "{decisive.case}",
    "nothing is told of {load} yet", "{next_message}",
    "{estimates.0.message}", "{estimates.1.message}", "{estimates.2.message}",
    "{estimates.3.message}", "{estimates.4.message}", "{estimates.5.message}",
    "{confounded.0.message}", "{part}: between", "between {low} and {high}",
    "{part} cannot be told apart", "together they are {sum}", "red lead at {red}",
    "black one at {black}", "black at {black}", "in {case}", "lead of {part}", "ohms of {part} by",
    "Reading {number} is noise", "of less than {least} an ohmmeter", "{part}: these readings",
    "expect {low} to {high}", "{faults.0.message}", "{part} is open: {volts} stand",
    "{part} does not close", "though {volts} reach", "{part} stays closed", "has {volts} only",
    "With {part} off {volts} were read", "see whether {part} opens",
    "well be {part}", "{beyond.0.message}",
    "Reading {contradicts.0} contradicts the rest",
    "{part} is {low} to {high}", "and {least} to {most} were given",
)  # fmt: skip

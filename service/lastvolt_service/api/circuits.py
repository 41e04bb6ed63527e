"""Whole circuits."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.circuits import check
from lastvolt_service.operations.decision import (
    quick_answer,
    relay_choice,
    relay_retrofit,
    remedy_choice,
    work_sheet,
)
from lastvolt_service.operations.starting import start_sequence

OPERATIONS = tuple(
    map(
        Operation.of,
        (
            check.OPERATION,
            start_sequence.OPERATION,
            relay_retrofit.OPERATION,
            remedy_choice.OPERATION,
            relay_choice.OPERATION,
            work_sheet.OPERATION,
            quick_answer.OPERATION,
        ),
    )
)
blueprint = topic("circuits", OPERATIONS)

"""A client in Python through the C interface: makes a plan, judges a log, handles an error.

    POULTER_LIBRARY=PREFIX/lib/libpoulter.so python3 plan.py order.toml probe.csv

The package ``poulter`` does all of this and more in fewer lines; this is for a program that has only the C library.
"""

import ctypes
import json
import os
import sys
from ctypes import POINTER, Structure, byref, c_char_p, c_double, c_int64, c_size_t, c_uint32, c_void_p
from pathlib import Path


class Text(Structure):
    _fields_ = [("data", c_void_p), ("len", c_size_t)]

    def __str__(self) -> str:
        return ctypes.string_at(self.data, self.len).decode()


class Buffer(Structure):
    _fields_ = [("data", c_void_p), ("len", c_size_t)]


class Time(Structure):
    _fields_ = [("low_s", c_double), ("likely_s", c_double), ("high_s", c_double)]


class Step(Structure):
    _fields_ = [
        *((name, Text) for name in ("id", "title", "earliest", "planned", "latest")),
        *((f"{name}_unix_s", c_int64) for name in ("earliest", "planned", "latest")),
        ("duration", Time),
    ]


library = ctypes.CDLL(os.environ["POULTER_LIBRARY"])
# What each function takes; those that can fail return a status, which is a uint32_t.
for name, result, arguments in [
    ("error_new", c_void_p, []),
    ("error_free", None, [c_void_p]),
    ("error_field", Text, [c_void_p]),
    ("error_message", Text, [c_void_p]),
    ("evaluate_json", c_uint32, [c_char_p, c_size_t, POINTER(Buffer), c_void_p]),
    ("buffer_free", None, [POINTER(Buffer)]),
    ("planner_new", c_uint32, [c_char_p, c_size_t, POINTER(c_void_p), c_void_p]),
    ("planner_free", None, [c_void_p]),
    ("planner_plan", c_uint32, [c_void_p, c_char_p, c_size_t, POINTER(c_void_p), c_void_p]),
    ("plan_free", None, [c_void_p]),
    ("plan_is_feasible", c_uint32, [c_void_p]),
    ("plan_step_count", c_size_t, [c_void_p]),
    ("plan_step", c_uint32, [c_void_p, c_size_t, POINTER(Step), c_void_p]),
]:
    function = getattr(library, f"poulter_{name}")
    function.restype, function.argtypes = result, arguments


class Refused(Exception):
    """A refused call."""

    def __init__(self, message: str, code: int, field: str) -> None:
        super().__init__(message)
        self.code, self.field = code, field


def checked(function, *arguments) -> None:
    """Call, and raise what the error object holds where the status is not 0."""
    error = library.poulter_error_new()
    try:
        status = function(*arguments, error)
        if status:
            message = str(library.poulter_error_message(error))
            raise Refused(message, status, str(library.poulter_error_field(error)))
    finally:
        library.poulter_error_free(error)


def evaluate(request: dict) -> dict:
    """Answer one request."""
    text, out = json.dumps(request).encode(), Buffer()
    checked(library.poulter_evaluate_json, text, len(text), byref(out))
    answer = ctypes.string_at(out.data, out.len)
    library.poulter_buffer_free(byref(out))
    return json.loads(answer)


def main(order_path: str, log_path: str) -> None:
    """Run the three parts."""
    # A plan.
    planner, plan, first = c_void_p(), c_void_p(), Step()
    order = Path(order_path).read_bytes()
    checked(library.poulter_planner_new, None, 0, byref(planner))
    checked(library.poulter_planner_plan, planner, order, len(order), byref(plan))
    checked(library.poulter_plan_step, plan, 0, byref(first))
    feasible = "feasible" if library.poulter_plan_is_feasible(plan) else "not feasible"
    print(f"plan: {feasible}, {library.poulter_plan_step_count(plan)} steps, first {first.id} at {first.planned}")
    library.poulter_plan_free(plan)
    library.poulter_planner_free(planner)

    # A log. Unsafe food is an answer, not an error.
    judged = evaluate({"kind": "check_cooking_log", "log": {"csv": Path(log_path).read_text()}})
    print("log:", judged["answer"]["verdict"])

    # An error: four hundred of what?
    try:
        evaluate({"kind": "thaw_time", "mass": "400", "method": "refrigerator"})
    except Refused as error:
        print("error:", error.code, "at", error.field)


if __name__ == "__main__":
    main(*sys.argv[1:3])

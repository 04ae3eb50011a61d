<?php
// A client in PHP: makes a plan, judges a log, handles an error.
//
//     POULTER_LIBRARY=PREFIX/lib/libpoulter.so php -d ffi.enable=1 plan.php order.toml probe.csv
declare(strict_types=1);

// The declarations of poulter.h that this program needs.
$poulter = FFI::cdef(<<<'C'
    struct poulter_error;
    struct poulter_planner;
    struct poulter_plan;
    struct poulter_text { const char *data; size_t len; };
    struct poulter_buffer { uint8_t *data; size_t len; };
    struct poulter_time { double low_s, likely_s, high_s; };
    struct poulter_step {
        struct poulter_text id, title, earliest, planned, latest;
        int64_t earliest_unix_s, planned_unix_s, latest_unix_s;
        struct poulter_time duration;
    };
    struct poulter_error *poulter_error_new(void);
    void poulter_error_free(struct poulter_error *error);
    struct poulter_text poulter_error_field(const struct poulter_error *error);
    struct poulter_text poulter_error_message(const struct poulter_error *error);
    uint32_t poulter_evaluate_json(const char *request, size_t len, struct poulter_buffer *out, struct poulter_error *error);
    void poulter_buffer_free(struct poulter_buffer *buffer);
    uint32_t poulter_planner_new(const char *rules, size_t len, struct poulter_planner **out, struct poulter_error *error);
    void poulter_planner_free(struct poulter_planner *planner);
    uint32_t poulter_planner_plan(const struct poulter_planner *planner, const char *order, size_t len,
                                  struct poulter_plan **out, struct poulter_error *error);
    void poulter_plan_free(struct poulter_plan *plan);
    uint32_t poulter_plan_is_feasible(const struct poulter_plan *plan);
    size_t poulter_plan_step_count(const struct poulter_plan *plan);
    uint32_t poulter_plan_step(const struct poulter_plan *plan, size_t index, struct poulter_step *out,
                               struct poulter_error *error);
C, getenv('POULTER_LIBRARY'));

class Refused extends RuntimeException
{
    public function __construct(string $message, int $code, public readonly string $field)
    {
        parent::__construct($message, $code);
    }
}

function text(FFI\CData $text): string
{
    return FFI::string($text->data, $text->len);
}

// Calls, and throws what the error object holds where the status is not 0.
function checked(FFI $poulter, callable $call): void
{
    $error = $poulter->poulter_error_new();
    try {
        $status = $call($error);
        if ($status !== 0) {
            throw new Refused(text($poulter->poulter_error_message($error)), $status, text($poulter->poulter_error_field($error)));
        }
    } finally {
        $poulter->poulter_error_free($error);
    }
}

function evaluate(FFI $poulter, array $request): array
{
    $json = json_encode($request, JSON_THROW_ON_ERROR);
    $out = $poulter->new('struct poulter_buffer');
    checked($poulter, fn ($error) => $poulter->poulter_evaluate_json($json, strlen($json), FFI::addr($out), $error));
    $answer = FFI::string($out->data, $out->len);
    $poulter->poulter_buffer_free(FFI::addr($out));
    return json_decode($answer, true, 512, JSON_THROW_ON_ERROR);
}

[, $orderPath, $logPath] = $argv;

// A plan.
$order = file_get_contents($orderPath);
$planner = $poulter->new('struct poulter_planner *');
$plan = $poulter->new('struct poulter_plan *');
$first = $poulter->new('struct poulter_step');
checked($poulter, fn ($error) => $poulter->poulter_planner_new(null, 0, FFI::addr($planner), $error));
checked($poulter, fn ($error) => $poulter->poulter_planner_plan($planner, $order, strlen($order), FFI::addr($plan), $error));
checked($poulter, fn ($error) => $poulter->poulter_plan_step($plan, 0, FFI::addr($first), $error));
printf(
    "plan: %s, %d steps, first %s at %s\n",
    $poulter->poulter_plan_is_feasible($plan) ? 'feasible' : 'not feasible',
    $poulter->poulter_plan_step_count($plan),
    text($first->id),
    text($first->planned),
);
$poulter->poulter_plan_free($plan);
$poulter->poulter_planner_free($planner);

// A log. Unsafe food is an answer, not an error.
$judged = evaluate($poulter, ['kind' => 'check_cooking_log', 'log' => ['csv' => file_get_contents($logPath)]]);
echo "log: {$judged['answer']['verdict']}\n";

// An error: four hundred of what?
try {
    evaluate($poulter, ['kind' => 'thaw_time', 'mass' => '400', 'method' => 'refrigerator']);
} catch (Refused $error) {
    echo "error: {$error->getCode()} at {$error->field}\n";
}

// A client in Node: makes a plan, judges a log, handles an error. It needs the package koffi.
//
//     npm install koffi && POULTER_LIBRARY=PREFIX/lib/libpoulter.so node plan.mjs order.toml probe.csv
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

// From the folder of the caller, where the package was installed.
const koffi = createRequire(process.cwd() + '/')('koffi');

const library = koffi.load(process.env.POULTER_LIBRARY);
koffi.opaque('poulter_error');
koffi.opaque('poulter_planner');
koffi.opaque('poulter_plan');
koffi.struct('poulter_text', { data: 'const char *', len: 'size_t' });
koffi.struct('poulter_buffer', { data: 'uint8_t *', len: 'size_t' });
koffi.struct('poulter_time', { low_s: 'double', likely_s: 'double', high_s: 'double' });
koffi.struct('poulter_step', {
  id: 'poulter_text', title: 'poulter_text',
  earliest: 'poulter_text', planned: 'poulter_text', latest: 'poulter_text',
  earliest_unix_s: 'int64_t', planned_unix_s: 'int64_t', latest_unix_s: 'int64_t',
  duration: 'poulter_time',
});

const errorNew = library.func('poulter_error *poulter_error_new()');
const errorFree = library.func('void poulter_error_free(poulter_error *error)');
const errorField = library.func('poulter_text poulter_error_field(const poulter_error *error)');
const errorMessage = library.func('poulter_text poulter_error_message(const poulter_error *error)');
const evaluateJson = library.func(
  'uint32_t poulter_evaluate_json(const uint8_t *request, size_t len, _Inout_ poulter_buffer *out, poulter_error *error)');
const bufferFree = library.func('void poulter_buffer_free(_Inout_ poulter_buffer *buffer)');
const plannerNew = library.func(
  'uint32_t poulter_planner_new(const uint8_t *rules, size_t len, _Out_ poulter_planner **out, poulter_error *error)');
const plannerFree = library.func('void poulter_planner_free(poulter_planner *planner)');
const plannerPlan = library.func(
  'uint32_t poulter_planner_plan(const poulter_planner *planner, const uint8_t *order, size_t len, '
  + '_Out_ poulter_plan **out, poulter_error *error)');
const planFree = library.func('void poulter_plan_free(poulter_plan *plan)');
const planIsFeasible = library.func('uint32_t poulter_plan_is_feasible(const poulter_plan *plan)');
const planStepCount = library.func('size_t poulter_plan_step_count(const poulter_plan *plan)');
const planStep = library.func(
  'uint32_t poulter_plan_step(const poulter_plan *plan, size_t index, _Out_ poulter_step *out, poulter_error *error)');

// Calls, and throws what the error object holds where the status is not 0.
function checked(call) {
  const error = errorNew();
  try {
    const status = call(error);
    if (status !== 0) {
      throw Object.assign(new Error(errorMessage(error).data), { code: status, field: errorField(error).data });
    }
  } finally {
    errorFree(error);
  }
}

function evaluate(request) {
  const text = Buffer.from(JSON.stringify(request));
  const out = { data: null, len: 0 };
  checked((error) => evaluateJson(text, text.length, out, error));
  const bytes = koffi.decode(out.data, 'uint8_t', Number(out.len));
  bufferFree(out);
  return JSON.parse(Buffer.from(bytes).toString('utf8'));
}

const [orderPath, logPath] = process.argv.slice(2);

// A plan.
const planner = [null];
const plan = [null];
const order = readFileSync(orderPath);
checked((error) => plannerNew(null, 0, planner, error));
checked((error) => plannerPlan(planner[0], order, order.length, plan, error));
const first = {};
checked((error) => planStep(plan[0], 0, first, error));
console.log(`plan: ${planIsFeasible(plan[0]) ? 'feasible' : 'not feasible'}, ${planStepCount(plan[0])} steps, `
  + `first ${first.id.data} at ${first.planned.data}`);
planFree(plan[0]);
plannerFree(planner[0]);

// A log. Unsafe food is an answer, not an error.
const judged = evaluate({ kind: 'check_cooking_log', log: { csv: readFileSync(logPath, 'utf8') } });
console.log(`log: ${judged.answer.verdict}`);

// An error: four hundred of what?
try {
  evaluate({ kind: 'thaw_time', mass: '400', method: 'refrigerator' });
} catch (error) {
  console.log(`error: ${error.code} at ${error.field}`);
}

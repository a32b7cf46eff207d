/* The benchmark day on SUNDIALS CVODE: the fixed yardstick for the speed of our own integrator.
 *
 * Heat 50 to 63 °C, hold 30 min by an on/off burner (0.5 K band), heat to 72 °C, hold 20 min; wash a
 * bed of 20 cells for 45 min; heat to 99 °C, boil 60 min. The numbers are invented for timing.
 * One CVODE object per kind of segment, made once and re-initialised per segment, as a careful user
 * would. What it is not: a model of a brew day, or a part of the program that is handed out.
 *
 * build: cc -O3 -march=native cvode_day.c -o cvode_day -lsundials_cvode -lsundials_nvecserial -lm
 * usage: cvode_day RELATIVE_TOLERANCE bdf|adams
 * prints: microseconds per day (10th percentile of SAMPLES days), calls of the rates per day, then
 *         the 42 final values, one number a line
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_config.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

#if SUNDIALS_VERSION_MAJOR >= 7
#define realtype sunrealtype
#define NO_COMMUNICATOR SUN_COMM_NULL
#else
#define NO_COMMUNICATOR NULL
#endif

#define GAS_CONSTANT 8.314462618
#define SAMPLES 200
#define CELLS 20

/* Not constants on purpose: a program reads them from a person's document. */
static double burner_w = 3200, base_w_k = 180, loss_w_k = 8, content_j_k = 118e3, base_j_k = 8e3;
static double air_c = 20, opening = 1. / 300, opening_e = 108e3;
static double cut_a = .004, cut_b = .002, limit_b = .0008, limit_a = .0004, act_e = 60e3;
static double lose_a = 1. / 3600, lose_a_e = 224e3, lose_b = 1. / 1200, lose_b_e = 410e3;
static double wash_flow = 25. / 2700, wash_held = .5;

static double power_w;
static int boiling;
static int watched;
static double threshold;
static long rate_calls;

static int mash(realtype t, N_Vector state, N_Vector rate, void *user) {
  double *y = NV_DATA_S(state), *d = NV_DATA_S(rate);
  (void)t, (void)user;
  rate_calls++;
  double inverse = 1 / (y[8] + 273.15);
  double x65 = -(inverse - 1 / 338.15) / GAS_CONSTANT, x68 = -(inverse - 1 / 341.15) / GAS_CONSTANT;
  double act = exp(x65 * act_e), open = exp(x65 * opening_e) * opening * y[0];
  double a = y[2] * act, b = y[3] * act;
  double by_a = a * y[1] * cut_a, by_b = b * y[1] * cut_b;
  double from_limit_b = b * y[7] * limit_b, from_limit_a = a * y[7] * limit_a;
  double heat = (y[9] - y[8]) * base_w_k;
  d[0] = -open;
  d[1] = open - by_a - by_b;
  d[2] = -exp(x68 * lose_a_e) * lose_a * y[2];
  d[3] = -exp(x65 * lose_b_e) * lose_b * y[3];
  d[4] = .05 * by_a + .1 * from_limit_a;
  d[5] = by_b + from_limit_b;
  d[6] = .15 * by_a + .9 * from_limit_a;
  d[7] = .8 * by_a - from_limit_b - from_limit_a;
  d[8] = (heat - (y[8] - air_c) * loss_w_k) / content_j_k;
  d[9] = (power_w - heat - (y[9] - air_c)) / base_j_k;
  return 0;
}

static int wash(realtype t, N_Vector state, N_Vector rate, void *user) {
  double *y = NV_DATA_S(state), *d = NV_DATA_S(rate), k = wash_flow / wash_held;
  (void)t, (void)user;
  rate_calls++;
  d[0] = -k * y[0];
  for (int i = 1; i < CELLS; i++) d[i] = k * (y[i - 1] - y[i]);
  d[CELLS] = wash_flow;
  d[CELLS + 1] = y[CELLS - 1] * wash_flow;
  return 0;
}

static int boil(realtype t, N_Vector state, N_Vector rate, void *user) {
  double *y = NV_DATA_S(state), *d = NV_DATA_S(rate);
  (void)t, (void)user;
  rate_calls++;
  double inverse = 1 / (y[2] + 273.15);
  double k1 = exp(27.395 - 11858 * inverse) / 60, k2 = exp(29.042 - 12994 * inverse) / 60;
  double k3 = exp((inverse - 1 / 373.15) * (-180e3 / GAS_CONSTANT)) * 3.1e-4;
  double heat = (y[3] - y[2]) * base_w_k, net = heat - (y[2] - air_c) * loss_w_k;
  d[0] = boiling ? -net / 2.26e6 : 0;
  d[1] = 0;
  d[2] = boiling ? 0 : net / (y[0] * 4180);
  d[3] = (power_w - heat) / base_j_k;
  d[4] = -k1 * y[4];
  d[5] = k1 * y[4] - k2 * y[5];
  d[6] = k2 * y[5];
  d[7] = -k3 * y[7];
  return 0;
}

static int crossing(realtype t, N_Vector state, realtype *g, void *user) {
  (void)t, (void)user;
  g[0] = NV_DATA_S(state)[watched] - threshold;
  return 0;
}

enum { MASH, WASH, BOIL, KINDS };
static const CVRhsFn RATES[KINDS] = {mash, wash, boil};
static const int STATES[KINDS] = {10, CELLS + 2, 8};
typedef struct { void *memory; N_Vector state; } Solver;
static Solver solvers[KINDS][2]; /* without and with an event */
static SUNContext context;

static void prepare(double relative, int bdf) {
  for (int kind = 0; kind < KINDS; kind++)
    for (int event = 0; event < 2; event++) {
      Solver *s = &solvers[kind][event];
      s->state = N_VNew_Serial(STATES[kind], context);
      N_VConst(0, s->state);
      s->memory = CVodeCreate(bdf ? CV_BDF : CV_ADAMS, context);
      CVodeInit(s->memory, RATES[kind], 0, s->state);
      CVodeSStolerances(s->memory, relative, relative * .1);
      CVodeSetMaxNumSteps(s->memory, 100000);
      if (bdf) {
        SUNMatrix matrix = SUNDenseMatrix(STATES[kind], STATES[kind], context);
        CVodeSetLinearSolver(s->memory, SUNLinSol_Dense(s->state, matrix, context), matrix);
      } else {
        CVodeSetNonlinearSolver(s->memory, SUNNonlinSol_FixedPoint(s->state, 0, context));
      }
      if (event) {
        CVodeRootInit(s->memory, 1, crossing);
        CVodeSetNoInactiveRootWarn(s->memory);
      }
    }
}

/* direction: +1 rising, -1 falling, 0 no event. Gives the time elapsed. */
static double run(int kind, double *y, double seconds, int state, double at, int direction, int *hit) {
  Solver *s = &solvers[kind][direction != 0];
  size_t bytes = (size_t)STATES[kind] * sizeof(double);
  double t = 0;
  memcpy(NV_DATA_S(s->state), y, bytes);
  watched = state, threshold = at;
  CVodeReInit(s->memory, 0, s->state);
  if (direction) CVodeSetRootDirection(s->memory, &direction);
  CVodeSetStopTime(s->memory, seconds);
  int result = CVode(s->memory, seconds, s->state, &t, CV_NORMAL);
  if (result < 0) {
    fprintf(stderr, "CVODE gave up with code %d\n", result);
    exit(1);
  }
  memcpy(y, NV_DATA_S(s->state), bytes);
  *hit = result == CV_ROOT_RETURN;
  return t;
}

static void hold(double *y, double target, double seconds) {
  int burning = 0, hit;
  while (seconds > 1e-6) {
    power_w = burning ? burner_w : 0;
    seconds -= burning ? run(MASH, y, seconds, 8, target, 1, &hit)
                       : run(MASH, y, seconds, 8, target - .5, -1, &hit);
    if (!hit) break;
    burning = !burning;
  }
}

static void day(double *out) {
  double y[10] = {1, 0, 1, 1, 0, 0, 0, 0, 50, 50}, bed[CELLS + 2];
  int hit;
  power_w = burner_w;
  double first = run(MASH, y, 7200, 8, 63, 1, &hit);
  hold(y, 63, 1800);
  power_w = burner_w;
  double second = run(MASH, y, 7200, 8, 72, 1, &hit);
  hold(y, 72, 1200);
  double extract = y[1] + y[4] + y[5] + y[6] + y[7];
  for (int i = 0; i < CELLS; i++) bed[i] = extract;
  bed[CELLS] = 5, bed[CELLS + 1] = 5 * extract;
  run(WASH, bed, 2700, 0, 0, 0, &hit);
  double kettle[8] = {bed[CELLS], bed[CELLS + 1], 70, 70, 1, 0, 0, 1};
  power_w = burner_w, boiling = 0;
  double third = run(BOIL, kettle, 14400, 2, 99, 1, &hit);
  boiling = 1;
  run(BOIL, kettle, 3600, 0, 0, 0, &hit);
  memcpy(out, y, sizeof y);
  out[10] = first + second;
  memcpy(out + 11, bed, sizeof bed);
  memcpy(out + 33, kettle, sizeof kettle);
  out[41] = third;
}

static double now_us(void) {
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return (double)t.tv_sec * 1e6 + (double)t.tv_nsec * 1e-3;
}

static int by_size(const void *a, const void *b) {
  double d = *(const double *)a - *(const double *)b;
  return (d > 0) - (d < 0);
}

int main(int count, char **words) {
  double out[42], us[SAMPLES];
  if (count != 3) {
    fprintf(stderr, "usage: cvode_day RELATIVE_TOLERANCE bdf|adams\n");
    return 2;
  }
  SUNContext_Create(NO_COMMUNICATOR, &context);
  prepare(atof(words[1]), !strcmp(words[2], "bdf"));
  day(out);
  rate_calls = 0;
  day(out);
  long calls = rate_calls;
  for (int i = 0; i < SAMPLES; i++) {
    double start = now_us();
    day(out);
    us[i] = now_us() - start;
  }
  qsort(us, SAMPLES, sizeof *us, by_size);
  printf("%.3f\n%ld\n", us[SAMPLES / 10], calls);
  for (int i = 0; i < 42; i++) printf("%.15e\n", out[i]);
  return 0;
}

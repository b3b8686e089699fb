// Between one process and the C library: the clock of day shows CLOCK_LAYER_SECONDS more than it is. Monotonic clocks
// are left alone. Loaded by LD_PRELOAD.
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stdlib.h>
#include <sys/time.h>
#include <time.h>

static long shift(void) {
  const char *seconds = getenv("CLOCK_LAYER_SECONDS");
  return seconds == NULL ? 0 : atol(seconds);
}

int clock_gettime(clockid_t clock, struct timespec *time) {
  static int (*real)(clockid_t, struct timespec *);
  if (real == NULL) {
    real = (int (*)(clockid_t, struct timespec *))dlsym(RTLD_NEXT, "clock_gettime");
  }
  int answer = real(clock, time);
  if (answer == 0 && (clock == CLOCK_REALTIME || clock == CLOCK_REALTIME_COARSE)) {
    time->tv_sec += shift();
  }
  return answer;
}

int gettimeofday(struct timeval *restrict time, void *restrict zone) {
  static int (*real)(struct timeval *, void *);
  if (real == NULL) {
    real = (int (*)(struct timeval *, void *))dlsym(RTLD_NEXT, "gettimeofday");
  }
  int answer = real(time, zone);
  if (answer == 0) {
    time->tv_sec += shift();
  }
  return answer;
}

time_t time(time_t *result) {
  struct timespec now;
  clock_gettime(CLOCK_REALTIME, &now);
  if (result != NULL) {
    *result = now.tv_sec;
  }
  return now.tv_sec;
}

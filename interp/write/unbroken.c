/* SPDX-License-Identifier: MIT
 * Signals that wait until a file has its name. */
#include "unbroken.h"

/* Those that nobody can hold back, and those that end no program by themselves. */
static bool harmless(int number) {
  static const int these[] = { SIGKILL, SIGSTOP, SIGTSTP, SIGTTIN, SIGTTOU, SIGCONT, SIGCHLD, SIGURG,
#ifdef SIGWINCH
                               SIGWINCH,
#endif
  };
  for (size_t i = 0; i < sizeof these / sizeof *these; i++)
    if (number == these[i]) return true;
  return false;
}

void sl_unbroken_begin(struct sl_unbroken *u) {
  sigprocmask(SIG_SETMASK, NULL, &u->before);
  sigemptyset(&u->waiting);
  for (int number = 1; number <= SIGRTMAX; number++) {
    struct sigaction now;
    if (harmless(number) || sigismember(&u->before, number)) continue;
    if (sigaction(number, NULL, &now) == 0 && now.sa_handler == SIG_DFL) sigaddset(&u->waiting, number);
  }
  sigprocmask(SIG_BLOCK, &u->waiting, NULL);
}

bool sl_unbroken_stop(const struct sl_unbroken *u) {
  sigset_t come;
  if (sigpending(&come) != 0) return false;
  for (int number = 1; number <= SIGRTMAX; number++)
    if (sigismember(&come, number) == 1 && sigismember(&u->waiting, number) == 1) return true;
  return false;
}

void sl_unbroken_end(const struct sl_unbroken *u) { sigprocmask(SIG_SETMASK, &u->before, NULL); }

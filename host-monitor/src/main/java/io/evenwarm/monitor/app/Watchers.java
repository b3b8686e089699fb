package io.evenwarm.monitor.app;

import java.time.Duration;
import java.util.Optional;

/** Small threads that wait for a reason to end. */
final class Watchers {

    private static final long PARENT_POLL_MILLIS = 250;

    private Watchers() {}

    /**
     * Ends when the process that started this one is gone; the system then names another parent, or
     * none.
     */
    static void endWithParent(Ending ending) {
        Optional<Long> parent = parentPid();
        daemon(
                "parent watch",
                () -> {
                    while (ending.await(PARENT_POLL_MILLIS).isEmpty()) {
                        if (!parentPid().equals(parent)) {
                            ending.done();
                        }
                    }
                });
    }

    private static Optional<Long> parentPid() {
        return ProcessHandle.current().parent().map(ProcessHandle::pid);
    }

    /** Ends after so long. */
    static void endAfter(Duration most, Ending ending) {
        daemon(
                "time limit",
                () -> {
                    if (ending.await(most.toMillis()).isEmpty()) {
                        ending.done();
                    }
                });
    }

    static void daemon(String name, Runnable body) {
        Thread thread = new Thread(body, name);
        thread.setDaemon(true);
        thread.start();
    }
}

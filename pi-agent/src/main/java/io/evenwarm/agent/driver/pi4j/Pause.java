package io.evenwarm.agent.driver.pi4j;

import java.util.concurrent.TimeUnit;

/** Waits while a sensor measures. */
@FunctionalInterface
interface Pause {

    Pause SLEEP =
            nanos -> {
                try {
                    TimeUnit.NANOSECONDS.sleep(nanos);
                } catch (InterruptedException e) {
                    Thread.currentThread().interrupt();
                }
            };

    void forNanos(long nanos);
}

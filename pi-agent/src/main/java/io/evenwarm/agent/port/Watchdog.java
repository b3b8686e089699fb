package io.evenwarm.agent.port;

/**
 * Somebody outside of the agent's process who ends it, or restarts the machine, once it falls
 * silent: a service manager, a watchdog device. Fed by completed control ticks only, never by a
 * timer: a timer would go on feeding while control hangs.
 */
@FunctionalInterface
public interface Watchdog {

    /** Nobody outside watches. */
    Watchdog NONE = () -> {};

    /**
     * Called by the control thread after a tick in which every cabinet was looked at and its lines
     * were driven. Returns at once, whatever the other side does, and never throws.
     */
    void tickCompleted();
}

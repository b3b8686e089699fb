package io.evenwarm.agent.port;

/** One switched line. De-energised is always the safe state. */
public interface Output extends AutoCloseable {

    /**
     * Drives the line now. Called by the control thread each tick, whether or not the level
     * changes, and by the lapse timer; returns within milliseconds.
     *
     * @throws OutputException when the line can't be driven
     */
    void drive(boolean energised) throws OutputException;

    /** De-energises the line and lets go of it. Never throws. */
    @Override
    void close();
}

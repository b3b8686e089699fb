package io.evenwarm.agent.testing;

import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;

/** A line that remembers its level, counts how often it was driven, and fails when told to. */
public final class FakeOutput implements Output {

    private final String name;
    private volatile boolean energised;
    private volatile boolean isFailing;
    private volatile boolean isClosed;
    private volatile Runnable whenDriven = () -> {};

    public FakeOutput(String name) {
        this(name, false);
    }

    /**
     * @param initially the level that an earlier process left behind
     */
    public FakeOutput(String name, boolean initially) {
        this.name = name;
        this.energised = initially;
    }

    @Override
    public void drive(boolean on) throws OutputException {
        whenDriven.run();
        if (isFailing) {
            throw new OutputException(name + " can't be driven");
        }
        // Like a real line it keeps its last level when closed, and can't be driven any more.
        if (!isClosed) {
            energised = on;
        }
    }

    @Override
    public void close() {
        isClosed = true;
        energised = false;
    }

    public boolean isEnergised() {
        return energised;
    }

    public boolean isClosed() {
        return isClosed;
    }

    public boolean isFailing() {
        return isFailing;
    }

    public void fail(boolean failing) {
        isFailing = failing;
    }

    /** Runs in the driving thread before the level changes: to hang it, or to look. */
    public void whenDriven(Runnable work) {
        whenDriven = work;
    }
}

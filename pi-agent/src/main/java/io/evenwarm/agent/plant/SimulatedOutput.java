package io.evenwarm.agent.plant;

import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import java.util.concurrent.atomic.AtomicBoolean;

/** A line of a simulated cabinet. Driven by any thread, seen by the one that steps the plant. */
final class SimulatedOutput implements Output {

    private final String name;
    private final AtomicBoolean energised = new AtomicBoolean();
    private volatile boolean closed;

    SimulatedOutput(String name) {
        this.name = name;
    }

    @Override
    public void drive(boolean on) throws OutputException {
        if (closed) {
            throw new OutputException("simulated line \"" + name + "\" was closed before");
        }
        energised.setRelease(on);
    }

    @Override
    public void close() {
        closed = true;
        energised.setRelease(false);
    }

    boolean isEnergised() {
        return energised.getAcquire();
    }
}

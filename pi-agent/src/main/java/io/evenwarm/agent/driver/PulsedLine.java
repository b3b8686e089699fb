package io.evenwarm.agent.driver;

import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;

/**
 * A line behind which hardware passes changes only: a relay enable that opens unless it is pulsed
 * about once a second. Each {@code drive(true)} turns the level round, so that energised is as long
 * as ticks come and any level that stays, low or high, is off within the hardware's hold time.
 *
 * <p>{@code drive(false)} leaves the line low. The relay then opens when the hold time is over:
 * what must open at once has a line of its own.
 */
public final class PulsedLine implements Output {

    private final Output line;
    private volatile boolean isHigh;

    /**
     * @param line the line itself; energised is high
     */
    public PulsedLine(Output line) {
        this.line = line;
    }

    @Override
    public void drive(boolean energised) throws OutputException {
        boolean level = energised && !isHigh;
        line.drive(level);
        isHigh = level;
    }

    @Override
    public void close() {
        line.close();
        isHigh = false;
    }
}

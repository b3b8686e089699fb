package io.evenwarm.agent.guard;

import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The last word over one cabinet's lines. The heater is energised only while control's wish and
 * guard's grant both hold at this very moment; the cut-off relay is closed only while the grant
 * does. Knows no link, no journal and no clock.
 *
 * <p>A new gate drives every line off before anything else can happen.
 *
 * <p><b>Threads.</b> The control thread calls {@link #apply} and {@link #driveOff}. The lapse timer
 * calls {@link #lapse} and whoever ends the agent calls {@link #close}, from their own threads and
 * while the control thread may hang in a driver. So nobody waits for a lock here: whoever turns
 * lines off sets its flag first, and the control thread looks at the flags again after it has
 * energised something, and takes it back. Whatever the order, the lines end up off.
 */
public final class OutputGate implements AutoCloseable {

    /** A wish older than this is none: three ticks. */
    private static final long WISH_LASTS_NANOS = 3_000_000_000L;

    private final CabinetOutputs outputs;

    // Written by the control thread only, read by the lapse timer.
    private volatile long feeds;
    private volatile boolean isLapsed;
    private volatile boolean isClosed;

    // Control thread only. What an earlier process left is not known: heat counts as on until a
    // line was driven off.
    private boolean heaterOn = true;
    private boolean cutOffRelayClosed = true;
    private boolean fanOn;
    private List<LineFault> faults = List.of();

    /**
     * Drives every line off.
     *
     * @param outputs whose driver may throw already: see {@link #faults()}
     */
    public OutputGate(CabinetOutputs outputs) {
        this.outputs = outputs;
        driveOff();
    }

    /**
     * Drives all lines for this tick, and tells the lapse timer that the control thread lives.
     *
     * @param isHeatWanted control's wish
     * @param wantedAtNanos monotonic time at which control wished it
     * @param grant guard's leave
     * @param isFanWanted whether the fan, if the agent drives one, should run
     * @param isBuzzerWanted whether the buzzer, if there is one, should sound
     * @param nowNanos monotonic time of the tick
     */
    public void apply(
            boolean isHeatWanted,
            long wantedAtNanos,
            HeatGrant grant,
            boolean isFanWanted,
            boolean isBuzzerWanted,
            long nowNanos) {
        if (isClosed) {
            driveOff();
            return;
        }
        long nextFeed = feeds + 1;
        feeds = nextFeed;
        if (isLapsed) {
            isLapsed = false;
        }
        faults = List.of();
        boolean isGranted = grant.holdsAt(nowNanos);
        boolean isWishFresh = nowNanos - wantedAtNanos < WISH_LASTS_NANOS;
        // The contact in series closes before the heater's and opens after it, so that the heater's
        // own relay does the switching.
        boolean heat = isHeatWanted && isWishFresh && isGranted;
        if (isGranted) {
            driveCutOffRelay(!grant.isCutOffOpen());
            driveHeater(heat);
        } else {
            driveHeater(false);
            driveCutOffRelay(false);
        }
        driveFan(isFanWanted);
        driveIfFitted(Line.BUZZER, outputs.buzzer(), isBuzzerWanted);
        if (isLapsed || isClosed) {
            driveOff();
        }
    }

    /** Drives what acts on the air's moisture, after {@link #apply}. */
    public void applyMoisture(boolean isHumidifierWanted, boolean isVentWanted) {
        boolean mayBeOn = !isClosed && !isLapsed;
        driveIfFitted(Line.HUMIDIFIER, outputs.humidifier(), isHumidifierWanted && mayBeOn);
        driveIfFitted(Line.VENT, outputs.vent(), isVentWanted && mayBeOn);
        if (isLapsed || isClosed) {
            driveOff();
        }
    }

    /** Drives every line off, in the control thread. */
    public void driveOff() {
        faults = List.of();
        driveHeater(false);
        driveCutOffRelay(false);
        driveFan(false);
        driveIfFitted(Line.BUZZER, outputs.buzzer(), false);
        driveIfFitted(Line.HUMIDIFIER, outputs.humidifier(), false);
        driveIfFitted(Line.VENT, outputs.vent(), false);
    }

    /**
     * Drives what carries heat, or makes the air moist, off because the control thread went silent.
     * From any thread; may be repeated. The cut-off relay goes first: the heater's own line may be
     * what hangs.
     */
    public void lapse() {
        isLapsed = true;
        outputs.cutOffRelay().ifPresent(OutputGate::offWhateverHappens);
        offWhateverHappens(outputs.heater());
        outputs.humidifier().ifPresent(OutputGate::offWhateverHappens);
        outputs.vent().ifPresent(OutputGate::offWhateverHappens);
    }

    /** Drives every line off for good, and lets go of them. From any thread; may be repeated. */
    @Override
    public void close() {
        isClosed = true;
        closeWhateverHappens(outputs.heater());
        outputs.cutOffRelay().ifPresent(OutputGate::closeWhateverHappens);
        outputs.fan().ifPresent(OutputGate::closeWhateverHappens);
        outputs.buzzer().ifPresent(OutputGate::closeWhateverHappens);
        outputs.humidifier().ifPresent(OutputGate::closeWhateverHappens);
        outputs.vent().ifPresent(OutputGate::closeWhateverHappens);
    }

    /** Rises with every {@link #apply}; stands still when the control thread does. */
    public long feeds() {
        return feeds;
    }

    /**
     * Whether the heater counts as energised since the lines were last driven: also when its line
     * could not be driven off. Control thread only.
     */
    public boolean isHeaterOn() {
        return heaterOn;
    }

    /**
     * Whether the cut-off relay counts as closed since the lines were last driven: also when it
     * could not be opened. Control thread only.
     */
    public boolean isCutOffRelayClosed() {
        return cutOffRelayClosed;
    }

    /** Whether the fan was on when last driven. Control thread only. */
    public boolean isFanOn() {
        return fanOn;
    }

    /** The lines that could not be driven the last time. Control thread only. */
    public List<LineFault> faults() {
        return faults;
    }

    /** A line that carries heat and fails to switch counts as on unless it is known to be off. */
    private void driveHeater(boolean energised) {
        boolean isDone = drive(Line.HEATER, outputs.heater(), energised);
        heaterOn = energised || (heaterOn && !isDone);
    }

    private void driveCutOffRelay(boolean energised) {
        if (outputs.cutOffRelay().isPresent()) {
            boolean isDone = drive(Line.CUT_OFF_RELAY, outputs.cutOffRelay().get(), energised);
            cutOffRelayClosed = energised || (cutOffRelayClosed && !isDone);
        }
    }

    /** A fan that fails to switch counts as it was: nobody may believe that it runs. */
    private void driveFan(boolean energised) {
        if (outputs.fan().isPresent() && drive(Line.FAN, outputs.fan().get(), energised)) {
            fanOn = energised;
        }
    }

    private void driveIfFitted(Line line, Optional<Output> output, boolean energised) {
        if (output.isPresent()) {
            drive(line, output.get(), energised);
        }
    }

    /** Returns whether the driver did it. */
    private boolean drive(Line line, Output output, boolean energised) {
        try {
            output.drive(energised);
            return true;
        } catch (OutputException e) {
            addFault(line, String.valueOf(e.getMessage()));
        } catch (RuntimeException e) {
            addFault(line, "driver error: " + e);
        }
        return false;
    }

    private void addFault(Line line, String found) {
        List<LineFault> longer = new ArrayList<>(faults);
        longer.add(new LineFault(line, found));
        faults = List.copyOf(longer);
    }

    private static void offWhateverHappens(Output output) {
        try {
            output.drive(false);
        } catch (OutputException | RuntimeException e) {
            // Nobody is left to tell; the timer tries again, and the next tick reports the line.
            return;
        }
    }

    private static void closeWhateverHappens(Output output) {
        offWhateverHappens(output);
        try {
            output.close();
        } catch (RuntimeException e) {
            // The other lines must be closed too.
            return;
        }
    }
}

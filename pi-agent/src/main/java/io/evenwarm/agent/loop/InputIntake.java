package io.evenwarm.agent.loop;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.port.CabinetInputs;
import io.evenwarm.agent.port.Contact;
import io.evenwarm.agent.port.Tachometer;
import io.evenwarm.message.CommandOutcome;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Takes in what a cabinet tells beside its probes, once a tick. Its buttons act like the commands
 * of the same name; the answers go to the log. Control thread only.
 *
 * <p>A button counts once for each press, and only after it was seen released: one that is stuck
 * does nothing for ever after.
 */
final class InputIntake {

    /** A reset must be meant. */
    static final long RESET_HOLD_NANOS = 3_000_000_000L;

    private static final System.Logger LOG = System.getLogger(InputIntake.class.getName());
    private static final Optional<Boolean> OPEN = Optional.of(true);
    private static final Optional<Boolean> SHUT = Optional.of(false);

    private final CabinetPlan plan;
    private final CabinetInputs inputs;
    private final Button silence = new Button(0);
    private final Button reset = new Button(RESET_HOLD_NANOS);
    private Optional<Boolean> isDoorOpen = Optional.empty();
    private OptionalDouble fanTurnsPerMinute = OptionalDouble.empty();

    InputIntake(CabinetPlan plan, CabinetInputs inputs) {
        this.plan = plan;
        this.inputs = inputs;
    }

    /** Reads all inputs, and does at the desk what the buttons ask for. */
    void read(long nowNanos, CommandDesk desk) {
        isDoorOpen =
                isClosed(inputs.door())
                        .map(closed -> closed ? SHUT : OPEN)
                        .orElse(Optional.empty());
        fanTurnsPerMinute = turns(inputs.fanTachometer());
        if (silence.isDue(isClosed(inputs.silenceButton()), nowNanos)) {
            desk.silence(outcome -> log("silence", outcome));
        }
        if (reset.isDue(isClosed(inputs.resetButton()), nowNanos)) {
            desk.resetAtCabinet(outcome -> log("reset", outcome));
        }
    }

    /** Empty when no door switch is fitted or it can't be read. */
    Optional<Boolean> isDoorOpen() {
        return isDoorOpen;
    }

    /** Empty when no tachometer is fitted or it can't be read. */
    OptionalDouble fanTurnsPerMinute() {
        return fanTurnsPerMinute;
    }

    private void log(String button, CommandOutcome outcome) {
        LOG.log(
                System.Logger.Level.INFO,
                "cabinet {0}, {1} button: {2}",
                plan.name(),
                button,
                outcome.words());
    }

    private Optional<Boolean> isClosed(Optional<Contact> contact) {
        if (contact.isEmpty()) {
            return Optional.empty();
        }
        try {
            return contact.get().isClosed();
        } catch (RuntimeException e) {
            // As good as one that can't be read: no contact may end a tick.
            return Optional.empty();
        }
    }

    private OptionalDouble turns(Optional<Tachometer> tachometer) {
        if (tachometer.isEmpty()) {
            return OptionalDouble.empty();
        }
        try {
            OptionalDouble turns = tachometer.get().revolutionsPerMinute();
            return turns.isPresent() && turns.getAsDouble() >= 0 && turns.getAsDouble() < 1e6
                    ? turns
                    : OptionalDouble.empty();
        } catch (RuntimeException e) {
            return OptionalDouble.empty();
        }
    }

    /** One button's way from released to due. */
    private static final class Button {

        private final long holdNanos;
        private boolean isArmed;
        private boolean isDown;
        private long downSinceNanos;

        Button(long holdNanos) {
            this.holdNanos = holdNanos;
        }

        boolean isDue(Optional<Boolean> isPressed, long nowNanos) {
            if (isPressed.isEmpty()) {
                isArmed = false;
                isDown = false;
                return false;
            }
            if (!isPressed.get()) {
                isArmed = true;
                isDown = false;
                return false;
            }
            if (!isDown) {
                isDown = true;
                downSinceNanos = nowNanos;
            }
            boolean isDue = isArmed && nowNanos - downSinceNanos >= holdNanos;
            isArmed = isArmed && !isDue;
            return isDue;
        }
    }
}

package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.message.FindingCode;
import java.util.Locale;
import java.util.Optional;

/**
 * The heater relay is switched on more often than a mechanical relay's contacts bear. Counts what
 * the gate did, for an hour in minutes.
 */
final class RelayChatter extends Watch {

    /** A pace of 960 a day; a sound loop needs 655 at most, and stays within 750. */
    static final int MOST_AN_HOUR = 40;

    /** A sound loop needs three. */
    static final int MOST_IN_FIVE_MINUTES = 10;

    private static final int MINUTES = 60;
    private static final long MINUTE_NANOS = 60_000_000_000L;
    private static final double OFF_DELAY_SECONDS = 600;

    private final boolean isMechanical;
    private final int[] operations = new int[MINUTES];
    private int minute;
    private int inAnHour;
    private boolean hasStarted;
    private long minuteSinceNanos;
    private boolean wasOn;

    RelayChatter(CabinetPlan plan) {
        super(FindingCode.RELAY_CHATTER, Optional.empty(), 0, OFF_DELAY_SECONDS);
        isMechanical = plan.control().relay() == ControlPlan.Relay.MECHANICAL;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        if (!isMechanical) {
            return Presence.ABSENT;
        }
        if (!hasStarted) {
            hasStarted = true;
            minuteSinceNanos = now.nowNanos();
        }
        for (int missed = 0;
                missed < MINUTES && now.nowNanos() - minuteSinceNanos >= MINUTE_NANOS;
                missed++) {
            minuteSinceNanos += MINUTE_NANOS;
            minute = (minute + 1) % MINUTES;
            inAnHour -= operations[minute];
            operations[minute] = 0;
        }
        boolean isOn = now.facts().wasHeaterOn();
        if (isOn && !wasOn) {
            operations[minute]++;
            inAnHour++;
        }
        wasOn = isOn;
        return Presence.of(inAnHour > MOST_AN_HOUR || inFiveMinutes() > MOST_IN_FIVE_MINUTES);
    }

    private int inFiveMinutes() {
        int sum = 0;
        for (int i = 0; i < 5; i++) {
            sum += operations[(minute - i + MINUTES) % MINUTES];
        }
        return sum;
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                String.format(
                        Locale.ROOT,
                        "heater relay switched on %d times within an hour, %d of them in the last 5"
                                + " min; a mechanical relay should bear at most 31 an hour (750 a"
                                + " day)",
                        inAnHour,
                        inFiveMinutes()),
                "goes on: the eggs need the heat more than the relay its contacts",
                "Look at window_seconds and the minimum times in the configuration: a short window"
                        + " is for a solid-state relay only. A relay that was worn like this may"
                        + " weld; replace it.");
    }
}

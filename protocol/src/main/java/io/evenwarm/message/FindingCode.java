package io.evenwarm.message;

import java.util.regex.Pattern;

/**
 * What kind of thing was found. An open vocabulary, so that an older monitor can show what a newer
 * agent found.
 *
 * @param value lower-case words joined by hyphens
 */
public record FindingCode(String value) implements Comparable<FindingCode> {

    private static final Pattern CODE = Pattern.compile("[a-z][a-z0-9]*(-[a-z0-9]+)*");

    /** Air above the cabinet's warm limit. */
    public static final FindingCode TOO_WARM = new FindingCode("too-warm");

    /** Air below the cabinet's cold limit. */
    public static final FindingCode TOO_COLD = new FindingCode("too-cold");

    /** The hard cut-off has tripped and stays so until a person resets it. */
    public static final FindingCode CUT_OFF_TRIPPED = new FindingCode("cut-off-tripped");

    /** A probe gives no usable reading. */
    public static final FindingCode PROBE_LOST = new FindingCode("probe-lost");

    /** No good air probe is left: nothing is known, so nothing is heated. */
    public static final FindingCode BLIND = new FindingCode("blind");

    /** Air probes differ by more than the cabinet allows. */
    public static final FindingCode PROBES_DISAGREE = new FindingCode("probes-disagree");

    /** The top is warmer than the bottom by far: the circulation fan may have stopped. */
    public static final FindingCode FAN_STOPPED = new FindingCode("fan-stopped");

    /** Ticks come late. */
    public static final FindingCode LATE_TICK = new FindingCode("late-tick");

    /** The journal can't be written. */
    public static final FindingCode JOURNAL_FAILING = new FindingCode("journal-failing");

    /** An output can't be switched. */
    public static final FindingCode OUTPUT_FAILING = new FindingCode("output-failing");

    /** A latch or a set point can't be written to the agent's state folder. */
    public static final FindingCode STATE_NOT_SAVED = new FindingCode("state-not-saved");

    /** The agent's own code failed while it worked on a cabinet. */
    public static final FindingCode AGENT_FAULT = new FindingCode("agent-fault");

    /** The wall clock has not been set from outside since the boot. */
    public static final FindingCode CLOCK_UNTRUSTED = new FindingCode("clock-untrusted");

    /** The heater heats although nothing commands it to. */
    public static final FindingCode HEATER_STUCK_ON = new FindingCode("heater-stuck-on");

    /** The heater is commanded on and gives no heat. */
    public static final FindingCode HEATER_DEAD = new FindingCode("heater-dead");

    /** The heater gives less heat than it used to. */
    public static final FindingCode HEATER_WEAK = new FindingCode("heater-weak");

    /** The circulation fan moves less air than it used to. */
    public static final FindingCode FAN_WEAK = new FindingCode("fan-weak");

    /** A probe no longer follows its neighbours. */
    public static final FindingCode PROBE_FROZEN = new FindingCode("probe-frozen");

    /** A probe's error grows. */
    public static final FindingCode PROBE_DRIFTING = new FindingCode("probe-drifting");

    /** A probe inside reads the room. */
    public static final FindingCode PROBE_FALLEN_OUT = new FindingCode("probe-fallen-out");

    /** Two probes sit in each other's place. */
    public static final FindingCode PROBES_SWAPPED = new FindingCode("probes-swapped");

    /** A probe scatters far more than it used to. */
    public static final FindingCode PROBE_NOISY = new FindingCode("probe-noisy");

    /** The cut-off relay does not interrupt, or does not close. */
    public static final FindingCode CUT_OFF_RELAY_STUCK = new FindingCode("cut-off-relay-stuck");

    /** The door has been open for longer than it should. */
    public static final FindingCode DOOR_OPEN = new FindingCode("door-open");

    /** The room is too cold for the heater to hold the set point. */
    public static final FindingCode ROOM_TOO_COLD = new FindingCode("room-too-cold");

    /** Heater off and still warming: the room, or the fan's own heat, is too much. */
    public static final FindingCode ROOM_TOO_WARM = new FindingCode("room-too-warm");

    /** The heater relay switches more often than its contacts bear. */
    public static final FindingCode RELAY_CHATTER = new FindingCode("relay-chatter");

    /** The mains came back after a cut. */
    public static final FindingCode MAINS_RETURNED = new FindingCode("mains-returned");

    /** One good air probe is left. */
    public static final FindingCode ONE_PROBE_LEFT = new FindingCode("one-probe-left");

    public FindingCode {
        if (value.length() > Names.MAX_LENGTH || !CODE.matcher(value).matches()) {
            throw new IllegalArgumentException(
                    "finding code must be lower-case words joined by hyphens but was \""
                            + value
                            + "\"");
        }
    }

    @Override
    public int compareTo(FindingCode other) {
        return value.compareTo(other.value);
    }

    @Override
    public String toString() {
        return value;
    }
}

package io.evenwarm.monitor.alarm;

import io.evenwarm.message.FindingCode;

/** What the monitor finds by itself, beside what agents find. */
public final class AlarmCodes {

    /** Nothing was heard of an agent for a while. */
    public static final FindingCode AGENT_SILENT = new FindingCode("agent-silent");

    /** Nothing was heard of a cabinet for a while. */
    public static final FindingCode CABINET_STALE = new FindingCode("cabinet-stale");

    /** Air above the limit at which a person must act. */
    public static final FindingCode FAR_TOO_WARM = new FindingCode("far-too-warm");

    /** Air below the limit at which a person must act. */
    public static final FindingCode FAR_TOO_COLD = new FindingCode("far-too-cold");

    /** Top and bottom of the air are too far apart. */
    public static final FindingCode UNEVEN = new FindingCode("uneven");

    /** Air drier than it should be. */
    public static final FindingCode TOO_DRY = new FindingCode("too-dry");

    /** Air damper than it should be. */
    public static final FindingCode TOO_DAMP = new FindingCode("too-damp");

    /** The monitor's store can't be written. */
    public static final FindingCode STORE_FAILING = new FindingCode("store-failing");

    /** The monitor's notices do not get out. */
    public static final FindingCode NOTICES_FAILING = new FindingCode("notices-failing");

    /** The outside switch is not fed, on purpose or not. */
    public static final FindingCode SWITCH_NOT_FED = new FindingCode("switch-not-fed");

    /** An exercise: nothing is wrong. */
    public static final FindingCode DRILL = new FindingCode("drill");

    /** Nobody has seen for long that a notice reaches people. */
    public static final FindingCode DRILL_OVERDUE = new FindingCode("drill-overdue");

    /** Less air moves in a cabinet than when it was learned. */
    public static final FindingCode AIR_FLOW_WEAK = new FindingCode("air-flow-weak");

    /** Probes were compared with a reference too long ago. */
    public static final FindingCode PROBE_CHECK_DUE = new FindingCode("probe-check-due");

    private AlarmCodes() {}
}

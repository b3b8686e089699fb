package io.evenwarm.agent.port;

/**
 * Where what must outlive a restart of the agent is kept, for all cabinets.
 *
 * @param latches the latch of each
 * @param setPoints a commanded set point
 * @param relayCounts how often the heater's relay has switched
 * @param learned what guard has learned
 * @param heldDuties which duty held the cabinet last
 */
public record KeptStores(
        LatchStore latches,
        SetPointStore setPoints,
        RelayCountStore relayCounts,
        LearnedStore learned,
        HeldDutyStore heldDuties) {

    /** Only the latch and the set point: for whoever starts again too seldom to need the rest. */
    public KeptStores(LatchStore latches, SetPointStore setPoints) {
        this(latches, setPoints, RelayCountStore.NONE, LearnedStore.NONE, HeldDutyStore.NONE);
    }
}

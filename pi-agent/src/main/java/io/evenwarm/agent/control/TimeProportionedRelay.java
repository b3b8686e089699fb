package io.evenwarm.agent.control;

/**
 * Turns a duty into times on and off of a relay that must not switch often.
 *
 * <p>Time goes in windows of fixed length, with one time on in each, at its start. The time on ends
 * when the window's share is served by the duty <em>as it is then</em>, so a falling duty is
 * followed at once and the window adds little delay to the loop. What a window leaves over, by
 * rounding to whole steps or because a time on shorter than the relay's minimum was left out, is
 * owed to the next: the mean duty is honoured, and what the gate really did counts, not what was
 * asked. No more is owed than a window at the duty of the moment wants and can give, and a shortest
 * time on.
 *
 * <p>Without anything owed, duty = time on / window: 60 s in 120 s is 50 % (the definition of time
 * proportioning).
 */
final class TimeProportionedRelay {

    private final double windowSeconds;
    private final double minimumOnSeconds;
    private final double minimumOffSeconds;

    private double owedSeconds;
    private double leftSeconds;
    private boolean isFresh = true;
    private boolean wasOnInWindow;
    private boolean wasOn;
    private double sinceSwitchSeconds = Double.MAX_VALUE;
    private double dutyBefore;

    TimeProportionedRelay(double windowSeconds, double minimumOnSeconds, double minimumOffSeconds) {
        this.windowSeconds = windowSeconds;
        this.minimumOnSeconds = minimumOnSeconds;
        this.minimumOffSeconds = minimumOffSeconds;
    }

    /**
     * One step.
     *
     * @param duty 0 to 1
     * @param elapsedSeconds since the step before, above 0
     * @param heaterWasOn whether the relay was really on since then
     * @return whether it should be on until the next step
     */
    boolean step(double duty, double elapsedSeconds, boolean heaterWasOn) {
        observe(elapsedSeconds, heaterWasOn);
        owedSeconds += elapsedSeconds * (dutyBefore - (heaterWasOn ? 1 : 0));
        // What was asked for while the relay had to stay off, and is asked for no longer, is not
        // given after all: after an opened door that was a window of full heat into a cabinet warm
        // again. Near full heat nothing can be served beside it.
        double mostOwedSeconds = minimumOnSeconds + Math.min(duty, 1 - duty) * windowSeconds;
        owedSeconds = Math.max(-windowSeconds, Math.min(mostOwedSeconds, owedSeconds));
        dutyBefore = duty;
        leftSeconds = isFresh ? 0 : leftSeconds - elapsedSeconds;
        isFresh = false;
        // Half a step: a window's end is met by the nearest step, not the next.
        if (leftSeconds < elapsedSeconds / 2) {
            leftSeconds = Math.max(leftSeconds, -elapsedSeconds) + windowSeconds;
            wasOnInWindow = false;
        }
        double due = owedSeconds + duty * leftSeconds;
        boolean on;
        if (wasOn) {
            on = due >= elapsedSeconds / 2 || sinceSwitchSeconds < minimumOnSeconds;
        } else {
            on =
                    !wasOnInWindow
                            && due >= Math.max(minimumOnSeconds, elapsedSeconds / 2)
                            && sinceSwitchSeconds >= minimumOffSeconds;
        }
        wasOnInWindow |= on;
        return on;
    }

    /** One step in which no heat is wanted: nothing is owed for it. */
    void idle(double elapsedSeconds, boolean heaterWasOn) {
        observe(elapsedSeconds, heaterWasOn);
        owedSeconds = 0;
        isFresh = true;
        dutyBefore = 0;
        wasOnInWindow = false;
    }

    private void observe(double elapsedSeconds, boolean heaterWasOn) {
        if (heaterWasOn == wasOn) {
            sinceSwitchSeconds += elapsedSeconds;
        } else {
            wasOn = heaterWasOn;
            // It switched at the start of the step that has just ended.
            sinceSwitchSeconds = elapsedSeconds;
        }
    }
}

package io.evenwarm.agent.guard.health;

/**
 * How long walls and tubs take to warm again after they were cold: hands inside, an open door, a
 * time without heat.
 */
final class Recovery {

    private static final double LONGEST_RECOVERY_SECONDS = 36_000;

    /** Walls and tubs need so many times as long to warm again as they were open. */
    private static final double RECOVERY_TIMES = 12;

    /** What takes longer than a look is work, be it announced or not. */
    private static final double LOOK_SECONDS = 180;

    /** Work puts cold tubs in, which take their heat for longer. */
    private static final double RECOVERY_TIMES_WORK = 40;

    /** What a person's hands or an open door did to the air has gone after this long. */
    static final double QUIET_AFTER_SECONDS = 1800;

    /**
     * A shorter pause of the ticks costs so little heat that what follows is no different; to wait
     * longer with a heater that stuck on meanwhile would cost more.
     */
    private static final double COLD_PAUSE_SECONDS = 900;

    private double openedSeconds;
    private double sinceOpenSeconds = 1e9;
    private double recoverySeconds;
    private boolean isWork;

    /** Takes a block in: how long hands or an open door cool the cabinet sets how long it takes. */
    void take(boolean isHanded, boolean isDoorOpen) {
        sinceOpenSeconds = isHanded || isDoorOpen ? 0 : sinceOpenSeconds + BlockMeans.SECONDS;
        if (isHanded || isDoorOpen) {
            openedSeconds += BlockMeans.SECONDS;
            // A look is one as well when a switch at the door tells of it.
            boolean isLonger = openedSeconds > LOOK_SECONDS;
            isWork |= isLonger;
            double times = isHanded || isLonger ? RECOVERY_TIMES_WORK : RECOVERY_TIMES;
            // A look does not warm the tubs of the reloading before it.
            recoverySeconds = Math.max(recoverySeconds, secondsToRecover(openedSeconds, times));
        } else {
            openedSeconds = 0;
            recoverySeconds = Math.max(0, recoverySeconds - BlockMeans.SECONDS);
            isWork &= recoverySeconds > 0;
        }
    }

    /** It was without heat for so long, s. */
    void takeCold(double seconds) {
        recoverySeconds = Math.max(recoverySeconds, secondsToRecover(seconds, RECOVERY_TIMES));
    }

    /** Nothing ticked for so long, s, and so nothing heated. */
    void takePause(double seconds) {
        if (seconds > COLD_PAUSE_SECONDS) {
            takeCold(seconds);
        }
    }

    private static double secondsToRecover(double coldSeconds, double times) {
        return Math.min(LONGEST_RECOVERY_SECONDS, QUIET_AFTER_SECONDS + times * coldSeconds);
    }

    /** Whether walls and tubs still make good for the last opening. */
    boolean isGoingOn() {
        return recoverySeconds > 0;
    }

    /** Whether what they make good for was more than a look: cold tubs may have been put in. */
    boolean isAfterWork() {
        return isWork;
    }

    /** How long ago it was last open, s; 0 while it is. */
    double sinceOpenSeconds() {
        return sinceOpenSeconds;
    }
}

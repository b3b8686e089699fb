package io.evenwarm.monitor.notice.channel;

import io.evenwarm.monitor.notice.Notice;

/**
 * What is heard: pulses of a tone with harmonics, which carry through doors and which ears find the
 * direction of better than of a pure one. More, faster and higher pulses for what is more urgent.
 *
 * @param fundamentalHertz of the tone
 * @param pulses how many
 * @param onMillis length of a pulse
 * @param offMillis pause after each
 */
record Tone(double fundamentalHertz, int pulses, int onMillis, int offMillis) {

    static final int SAMPLES_PER_SECOND = 44_100;

    /** Each harmonic, the fundamental first, with its share; their sum stays within ±1. */
    private static final double[] HARMONICS = {0.4, 0.25, 0.2, 0.1};

    /** A pulse that begins at once is a click. */
    private static final int RAMP_MILLIS = 10;

    private static final double LOUDNESS = 0.9;

    static Tone of(Notice notice) {
        if (notice.kind().isEnd()) {
            return new Tone(330, 2, 400, 100);
        }
        return switch (notice.priority()) {
            case LOW -> new Tone(440, 1, 400, 100);
            case MEDIUM -> new Tone(660, 3, 250, 150);
            case HIGH -> new Tone(880, 10, 150, 100);
        };
    }

    int millis() {
        return pulses * (onMillis + offMillis);
    }

    /** Signed 16 bit, little-endian, one channel. */
    byte[] samples() {
        int on = samples(onMillis);
        int pulse = on + samples(offMillis);
        byte[] octets = new byte[2 * pulses * pulse];
        for (int i = 0; i < on; i++) {
            short value =
                    (short) Math.round(Short.MAX_VALUE * LOUDNESS * envelope(i, on) * wave(i));
            for (int p = 0; p < pulses; p++) {
                int at = 2 * (p * pulse + i);
                octets[at] = (byte) value;
                octets[at + 1] = (byte) (value >> 8);
            }
        }
        return octets;
    }

    private double wave(int sample) {
        double sum = 0;
        for (int k = 0; k < HARMONICS.length; k++) {
            sum +=
                    HARMONICS[k]
                            * Math.sin(
                                    2
                                            * Math.PI
                                            * (k + 1)
                                            * fundamentalHertz
                                            * sample
                                            / SAMPLES_PER_SECOND);
        }
        return sum;
    }

    /** A raised cosine at both ends. */
    private static double envelope(int sample, int count) {
        int edge = Math.min(sample, count - 1 - sample);
        int ramp = samples(RAMP_MILLIS);
        return edge >= ramp ? 1 : 0.5 * (1 - Math.cos(Math.PI * edge / ramp));
    }

    private static int samples(int millis) {
        return SAMPLES_PER_SECOND * millis / 1000;
    }
}

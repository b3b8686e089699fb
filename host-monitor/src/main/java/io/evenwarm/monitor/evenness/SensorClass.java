package io.evenwarm.monitor.evenness;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/**
 * What the datasheets promise of a kind of sensor as it was bought. Of one that nobody knows, the
 * worst of all that are known is taken. A value that a datasheet calls typical is no bound: twice
 * that is taken.
 */
public enum SensorClass {
    /** Datasheet 19-7487: ±0.5 K from −10 to 85 °C, 1/16 K at 12 bit. */
    DS18B20("DS18B20", 0.0625, 0.5, 0),
    /** From memory of its datasheet; the kernel makes 1/16 K of its remainder. */
    DS18S20("DS18S20", 0.0625, 0.5, 0),
    /** The wide class of the DS18B20, from memory of its datasheet. */
    DS1822("DS1822", 0.0625, 2, 0),
    /** From memory of its datasheet. */
    DS1825("DS1825", 0.0625, 0.5, 0),
    /** From memory of its datasheet. */
    DS28EA00("DS28EA00", 0.0625, 0.5, 0),
    /** BST-BME280-DS002: ±1.0 K from 0 to 65 °C, ±3 %RH. */
    BME280("BME280", 0.01, 1, 3),
    /** As the BME280's thermometer, from memory of its datasheet. */
    BMP280("BMP280", 0.01, 1, 0),
    /** SHT3x-DIS datasheet, of the SHT30: ±0.2 K and ±2 %RH are typical. */
    SHT3X("SHT3x", 0.015, 0.4, 4),
    /** From memory of its datasheet, of the SHT40: ±0.2 K and ±1.8 %RH are typical. */
    SHT4X("SHT4x", 0.01, 0.4, 3.6),
    /** It may be any of the others. Steps of a tenth are common in loggers, no source. */
    UNKNOWN("unknown sensor", 0.1, 2, 4);

    private final String words;
    private final double step;
    private final double kelvin;
    private final double percent;

    /**
     * @param words what it is called
     * @param step smallest, of K and of %RH
     * @param kelvin ±
     * @param percent ± of relative humidity; 0 where it does not measure that
     */
    SensorClass(String words, double step, double kelvin, double percent) {
        this.words = words;
        this.step = step;
        this.kelvin = kelvin;
        this.percent = percent;
    }

    /** The one of a name that an agent gave; {@link #UNKNOWN} where there is none. */
    public static SensorClass of(Optional<String> name) {
        return name.flatMap(
                        given ->
                                Arrays.stream(values())
                                        .filter(known -> known != UNKNOWN)
                                        .filter(known -> known.isNamed(given))
                                        .findFirst())
                .orElse(UNKNOWN);
    }

    private boolean isNamed(String given) {
        return words.toLowerCase(Locale.ROOT).equals(given.toLowerCase(Locale.ROOT));
    }

    /** What it is called, for a person. */
    public String words() {
        return words;
    }

    /** As a thermometer that nobody compared. */
    public ProbeQuality thermometer() {
        return ProbeQuality.uncompared(step, kelvin);
    }

    /** As a hygrometer that nobody compared. */
    public ProbeQuality hygrometer() {
        return ProbeQuality.uncompared(step, percent > 0 ? percent : UNKNOWN.percent);
    }
}

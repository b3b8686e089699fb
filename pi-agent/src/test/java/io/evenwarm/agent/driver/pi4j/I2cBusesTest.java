package io.evenwarm.agent.driver.pi4j;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.pi4j.Pi4J;
import com.pi4j.context.Context;
import com.pi4j.io.i2c.I2C;
import com.pi4j.plugin.mock.Mock;
import com.pi4j.plugin.mock.provider.i2c.MockI2CProvider;
import io.evenwarm.agent.port.Sample;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The way through Pi4J, with its mock named as the provider. */
final class I2cBusesTest {

    @TempDir Path root;
    private final List<Context> contexts = new ArrayList<>();

    private I2cDevice.Opener opener(String provider) throws IOException {
        Path dev = Files.createDirectories(root.resolve("dev"));
        Files.writeString(dev.resolve("i2c-1"), "");
        return I2cBuses.opener(
                dev,
                root.resolve("sys"),
                () -> {
                    Context context =
                            Pi4J.newContextBuilder()
                                    .noAutoDetect()
                                    .disableShutdownHook()
                                    .add(MockI2CProvider.newInstance())
                                    .build();
                    contexts.add(context);
                    return context;
                },
                provider);
    }

    @Test
    void aMeasurementGoesThroughPi4jToTheBusAndBack() throws IOException {
        I2cDevice.Opener opener = opener(Mock.I2C_PROVIDER_ID);
        // The mock hands back what was written to it, in order: first what the sensor "sends".
        ShtSensor sensor =
                new ShtSensor(
                        ShtAddress.parse("sht3x@1-0045/temp").orElseThrow().device(),
                        opener,
                        nanos -> {
                            I2C device = contexts.get(0).io("evenwarm-1-69");
                            if (nanos == ShtKind.RESET_NANOS) {
                                assertArrayEquals(ShtKind.SHT3X.softReset(), device.readNBytes(2));
                                device.write(ShtSensorTest.result(0x6666, 0x8000));
                            }
                        });
        Sample sample = sensor.source(Sample.Unit.CELSIUS).read(5);
        assertEquals(new Sample.Measured(25, Sample.Unit.CELSIUS, 5), sample);
        I2C device = contexts.get(0).io("evenwarm-1-69");
        assertEquals(1, device.bus());
        assertEquals(0x45, device.device());
        assertArrayEquals(ShtKind.SHT3X.measure(), device.readNBytes(2));
    }

    /** Pi4J 2.8 would go on with whichever device was selected before. */
    @Test
    void eachDeviceHasAContextOfItsOwn() throws IOException {
        I2cDevice.Opener opener = opener(Mock.I2C_PROVIDER_ID);
        try (I2cDevice first = opener.open(1, 0x44);
                I2cDevice second = opener.open(1, 0x45)) {
            first.write(new byte[] {1});
            second.write(new byte[] {2});
            assertEquals(2, contexts.size());
        }
        assertTrue(contexts.stream().allMatch(Context::isShutdown));
    }

    @Test
    void aProviderThatIsNotTheNamedOneIsNeverTaken() throws IOException {
        I2cDevice.Opener opener = opener("linuxfs-i2c");
        IOException failure = assertThrows(IOException.class, () -> opener.open(1, 0x44));
        assertTrue(String.valueOf(failure.getMessage()).contains("linuxfs-i2c"), failure::toString);
    }

    @Test
    void aMissingBusAndAnAddressThatTheKernelUsesAreToldInWords() throws IOException {
        I2cDevice.Opener opener = opener(Mock.I2C_PROVIDER_ID);
        NoSuchFileException missing =
                assertThrows(NoSuchFileException.class, () -> opener.open(3, 0x44));
        assertEquals(root.resolve("dev/i2c-3").toString(), missing.getFile());

        Path driver = Files.createDirectories(root.resolve("sys/drivers/sht3x"));
        Path device = Files.createDirectories(root.resolve("sys/1-0044"));
        Files.createSymbolicLink(device.resolve("driver"), driver);
        IOException taken = assertThrows(IOException.class, () -> opener.open(1, 0x44));
        assertTrue(
                String.valueOf(taken.getMessage())
                        .contains("belongs to the kernel's driver sht3x: use driver = \"hwmon\""),
                taken::toString);
        assertEquals(List.of(), contexts);
    }

    /** The real provider, on a machine without such a bus. */
    @Test
    void onAMachineWithoutI2cTheRealProviderSaysSo() {
        ShtSensor sensor =
                new ShtSensor(
                        ShtAddress.parse("sht3x@99-0044/temp").orElseThrow().device(),
                        I2cBuses.ofThisMachine());
        Sample.Failed failure =
                assertInstanceOf(Sample.Failed.class, sensor.source(Sample.Unit.CELSIUS).read(5));
        assertTrue(failure.detail().contains("/dev/i2c-99 is not there"), failure.detail());
    }
}

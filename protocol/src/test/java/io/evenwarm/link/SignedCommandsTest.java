package io.evenwarm.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.link.SignedCommands.NotSignedException;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Command;
import io.evenwarm.message.Message;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.util.HexFormat;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class SignedCommandsTest {

    private static final Identity MONITOR = Identity.create("monitor");
    private static final Message.CommandRequest REQUEST =
            new Message.CommandRequest(7, new Command.Silence(new CabinetName("north")));

    private final SignedCommands.Judge judge = new SignedCommands.Judge();
    private final String nonce = judge.challenge().nonce();

    private Message.SignedCommand signed(long counter) {
        return SignedCommands.sign(MONITOR, nonce, counter, REQUEST);
    }

    private String refusal(Message.SignedCommand command) {
        NotSignedException refused =
                assertThrows(NotSignedException.class, () -> judge.judge(command));
        return String.valueOf(refused.getMessage());
    }

    @Test
    void aCommandSignedForThisSessionIsItsSignersCommand() throws NotSignedException {
        SignedCommands.Signed judged = judge.judge(signed(1));
        assertEquals(MONITOR.pin(), judged.signer());
        assertEquals(REQUEST, judged.request());
    }

    @Test
    void aRecordedCommandDoesNotCountTwice() throws NotSignedException {
        judge.judge(signed(1));
        assertEquals("it came before: each command counts once", refusal(signed(1)));
        assertEquals(REQUEST, judge.judge(signed(5)).request(), "a lost one leaves a gap");
        assertEquals("it came before: each command counts once", refusal(signed(4)));
    }

    @Test
    void aCommandRecordedInAnEarlierSessionCountsForNothing() {
        Message.SignedCommand recorded = signed(1);
        judge.challenge();
        assertEquals("its signature is not right for this session", refusal(recorded));
        assertEquals(
                "its signature is not right for this session",
                String.valueOf(
                        assertThrows(
                                        NotSignedException.class,
                                        () -> new SignedCommands.Judge().judge(recorded))
                                .getMessage()));
    }

    @Test
    void nothingInItCanBeChanged() {
        Message.SignedCommand good = signed(1);
        String wrong = "its signature is not right for this session";
        assertEquals(
                wrong,
                refusal(
                        new Message.SignedCommand(
                                2, good.key(), good.request(), good.signature())));
        String other = Identity.create("other").publicKey();
        assertEquals(
                wrong,
                refusal(new Message.SignedCommand(1, other, good.request(), good.signature())));
        Message.SignedCommand another =
                SignedCommands.sign(
                        MONITOR,
                        nonce,
                        1,
                        new Message.CommandRequest(
                                7, new Command.ResetCutOff(new CabinetName("north"))));
        assertEquals(
                wrong,
                refusal(
                        new Message.SignedCommand(
                                1, good.key(), another.request(), good.signature())));
        assertEquals(
                wrong, refusal(new Message.SignedCommand(1, good.key(), good.request(), "00")));
        assertEquals(
                "what was signed is no command",
                refusal(new Message.SignedCommand(1, good.key(), "ff", good.signature())));
    }

    @Test
    void keysOfAnotherKindAreNobodys() throws NoSuchAlgorithmException {
        KeyPairGenerator generator = KeyPairGenerator.getInstance("RSA");
        generator.initialize(2048);
        KeyPair pair = generator.generateKeyPair();
        String rsa = HexFormat.of().formatHex(pair.getPublic().getEncoded());
        assertEquals(Optional.empty(), SignedCommands.pinOf(rsa));
        assertEquals(Optional.empty(), SignedCommands.pinOf("00"));
        assertEquals(Optional.of(MONITOR.pin()), SignedCommands.pinOf(MONITOR.publicKey()));
        assertEquals(
                Optional.empty(),
                SignedCommands.pinOf(MONITOR.publicKey() + "00"),
                "one key has one pin");
    }

    @Test
    void aSigningLinkSignsOnlyCommandsAndOnlyAfterAChallenge()
            throws LinkException, NotSignedException {
        MemoryLinks.Pair pair = MemoryLinks.pair();
        Duration patience = Duration.ofSeconds(20);
        try (Link agent = pair.left();
                Link monitor = SignedCommands.signing(pair.right(), MONITOR)) {
            monitor.send(REQUEST);
            assertEquals(Optional.of(REQUEST), agent.receive(patience));
            agent.send(judge.challenge());
            assertTrue(monitor.receive(patience).isPresent());
            monitor.send(new Message.KeepAlive());
            assertEquals(Optional.of(new Message.KeepAlive()), agent.receive(patience));
            monitor.send(REQUEST);
            monitor.send(REQUEST);
            for (int i = 0; i < 2; i++) {
                Message message = agent.receive(patience).orElseThrow();
                assertEquals(
                        MONITOR.pin(),
                        judge.judge((Message.SignedCommand) message).signer(),
                        "number " + i);
            }
        }
    }
}
